import { caseRoom } from './case';
import { flatplan } from './flatplan';
import { glossary } from './glossary';
import { journey } from './journey';
import { pictures } from './pictures';
import { read } from './read';
import { sheets } from './sheets';
import { shell } from './shell';
import { spread } from './spread';
import { start } from './start';

export const english = {
  shell,
  start,
  journey,
  pictures,
  flatplan,
  spread,
  sheets,
  case: caseRoom,
  read,
  glossary,
};

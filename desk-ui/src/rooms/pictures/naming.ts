/** What pictures and days are called. */
import { fill, texts } from '../../texts';
import type { Facts, Pick } from './columns';

const words = texts.pictures;
const DATE = new Intl.DateTimeFormat('en-GB', {
  weekday: 'long',
  day: 'numeric',
  month: 'long',
  year: 'numeric',
  timeZone: 'UTC',
});

/** "Monday 12 May 2025", by the day's place in the list of days. */
export function nameDay(facts: Facts, day: number): string {
  const date = facts.days[day]?.date;
  return date ? DATE.format(new Date(`${date}T00:00:00Z`)) : words.undated;
}

export const namePlace = (facts: Facts, at: number): string =>
  facts.places[facts.place[at] ?? -1] ?? '';

const findFate = (pick: Pick, taken: boolean): keyof typeof words.fate =>
  pick === 'hero' ? 'hero' : taken ? 'taken' : 'left';

/** Taken, left or hero. */
export const nameFate = (pick: Pick, taken: boolean): string => words.fate[findFate(pick, taken)];

/** The same, and whether it is the person's own word. */
export const nameWord = (pick: Pick, taken: boolean): string =>
  (pick === 'open' ? words.fate : words.byYou)[findFate(pick, taken)];

/** All that a screen reader says of a picture. */
export function namePicture(facts: Facts, at: number, pick: Pick, taken: boolean): string {
  return fill(words.nameWith, {
    name: facts.name[at] ?? '',
    time: facts.time[at] || words.undated,
    place: namePlace(facts, at) || nameDay(facts, facts.day[at] ?? -1),
    fate: nameWord(pick, taken),
  });
}

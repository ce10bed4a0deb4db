import { describe, expect, it } from 'vitest';
import type { Piece } from './pieces';
import type { TextIn } from './wire';
import { beginWriting, isChanged, tellSheet } from './writing';

const text = (what: TextIn['what'], key: string, source: string, subtitle: string | null = null) =>
  ({ what, key, source, subtitle, name: 'IMG_0042.jpg' }) as TextIn;

const begin = (...texts: TextIn[]) => beginWriting({ texts } as Piece);

describe('writing on a slip', () => {
  it('tells what was there before, so that nothing of another is lost', () => {
    const [sheet] = begin(text('caption', 'ab12', 'The quay'));
    expect(isChanged(sheet!)).toBe(false);
    sheet!.source = 'The quay at noon';
    expect(isChanged(sheet!)).toBe(true);
    expect(tellSheet(sheet!)).toEqual({
      photo: 'ab12',
      caption: 'The quay at noon',
      was: 'The quay',
    });
  });

  it('keeps title and subtitle together', () => {
    const [sheet] = begin(text('title', 'Porto', 'Granite', 'Upriver'));
    sheet!.subtitle = '';
    expect(isChanged(sheet!)).toBe(true);
    expect(tellSheet(sheet!)).toEqual({
      place: 'Porto',
      title: 'Granite',
      subtitle: '',
      was: 'Granite',
      was_subtitle: 'Upriver',
    });
  });

  it('names captions that stand together by their pictures', () => {
    const sheets = begin(text('caption', 'a', ''), text('text', 'foreword', ''));
    expect(sheets.map(({ label }) => label)).toEqual(['Caption of IMG_0042.jpg', 'Text']);
  });
});

import { describe, expect, it } from 'vitest';
import { readPage } from '../../shell/route';
import type { Page, Spread } from './reading';
import {
  clampSpread,
  findChapter,
  findDrawing,
  findSpread,
  followKey,
  hasLeaf,
  listChapters,
  listHalves,
  listPages,
  measureStacks,
  namePlace,
  nameSpread,
  placeNames,
} from './spreads';

const page = (number: number, chapter = ''): Page => ({
  number,
  side: number % 2 ? 'recto' : 'verso',
  chapter,
  label: '',
});

const bare = { left_veiled: null, right_veiled: null };

// An eight-page book: right-hand page first, last page on the left.
const spreads: Spread[] = [
  { left: null, right: 1, ...bare },
  { left: 2, right: 3, ...bare },
  { left: 4, right: 5, ...bare },
  { left: 6, right: 7, ...bare },
  { left: 8, right: null, ...bare },
];

// A leaf between pages 2 and 3: first on the right page, then turned onto the left one.
const laid: Spread = { left: 2, right: 3, left_veiled: null, right_veiled: 1 };
const turned: Spread = { left: 2, right: 3, left_veiled: 2, right_veiled: null };

describe('finding spreads', () => {
  it('finds the spread that shows a page', () => {
    const found = [1, 2, 3, 4, 5, 6, 7, 8].map((number) => findSpread(spreads, number));
    expect(found).toEqual([0, 1, 1, 2, 2, 3, 3, 4]);
  });

  it('takes the nearest when there is no such page', () => {
    expect(findSpread(spreads, 0)).toBe(0);
    expect(findSpread(spreads, 99)).toBe(4);
    expect(findSpread([], 1)).toBe(-1);
  });

  it('stays inside the book', () => {
    expect(clampSpread(-3, 5)).toBe(0);
    expect(clampSpread(7, 5)).toBe(4);
    expect(clampSpread(0, 0)).toBe(-1);
  });

  it('goes to an address and back', () => {
    for (const [index, spread] of spreads.entries()) {
      expect(findSpread(spreads, readPage(namePlace(spread)) ?? -1)).toBe(index);
    }
  });
});

describe('names', () => {
  it('says which pages are seen', () => {
    expect(nameSpread(spreads[0])).toBe('page 1');
    expect(nameSpread(spreads[1])).toBe('pages 2 and 3');
    expect(listPages(spreads[4])).toEqual([8]);
    expect(listPages(undefined)).toEqual([]);
  });

  it('lists chapters where they begin, also two of the same name', () => {
    const pages = ['', 'A', 'A', 'B', 'B', 'A', 'A', 'A'].map((name, i) => page(i + 1, name));
    const chapters = listChapters(pages, spreads);
    expect(chapters.map(({ title, page, spread }) => [title, page, spread])).toEqual([
      ['A', 2, 1],
      ['B', 4, 2],
      ['A', 6, 3],
    ]);
    expect(findChapter(chapters, 0)).toBeUndefined();
    expect(findChapter(chapters, 2)?.title).toBe('B');
    expect(findChapter(chapters, 4)?.page).toBe(6);
  });
});

describe('translucent leaves', () => {
  it('lie on the right page until they are turned', () => {
    expect(listHalves(laid).map(findDrawing)).toEqual(['pages/2.svg', 'veiled/1.svg']);
    expect(listHalves(turned).map(findDrawing)).toEqual(['veiled/2.svg', 'pages/3.svg']);
    expect([laid, turned, spreads[1]].map(hasLeaf)).toEqual([true, true, false]);
    expect(nameSpread(laid)).toBe('pages 2 and 3, a leaf before the right one');
    expect(nameSpread(turned)).toBe('pages 2 and 3, the leaf turned');
    expect(nameSpread({ ...laid, left_veiled: 4 })).toBe('pages 2 and 3, leaves on both');
  });

  it('show the bare pages when they are lifted', () => {
    for (const spread of [laid, turned]) {
      expect(listHalves(spread, true).map(findDrawing)).toEqual(['pages/2.svg', 'pages/3.svg']);
    }
  });

  it('may lie over nothing, outside the first page and the last', () => {
    const outside: Spread = { left: null, right: 1, left_veiled: 2, right_veiled: null };
    expect(listHalves(outside)).toEqual([
      { side: 'verso', number: null, veiled: 2 },
      { side: 'recto', number: 1, veiled: null },
    ]);
    expect(listHalves(outside, true).map((half) => half.number)).toEqual([1]);
    expect(listHalves(undefined)).toEqual([]);
  });

  it('are come upon before what they cover', () => {
    const book = [spreads[0]!, laid, turned, ...spreads.slice(2)];
    expect([1, 2, 3, 4].map((number) => findSpread(book, number))).toEqual([0, 1, 1, 3]);
  });
});

describe('keys', () => {
  it.each([
    ['ArrowRight', false, 3],
    ['PageDown', false, 3],
    [' ', false, 3],
    [' ', true, 1],
    ['ArrowLeft', false, 1],
    ['PageUp', false, 1],
    ['Home', false, 0],
    ['End', false, 4],
    ['a', false, null],
    ['Tab', false, null],
  ] as const)('%j (shift %s) leads from 2 to %s', (key, shift, to) => {
    expect(followKey(key, shift, 2, 5)).toBe(to);
  });

  it('stops at the covers', () => {
    expect(followKey('ArrowRight', false, 4, 5)).toBe(4);
    expect(followKey('ArrowLeft', false, 0, 5)).toBe(0);
  });
});

describe('the stacks beside the pages', () => {
  it('together stay as thick as the book', () => {
    for (let index = 0; index < 5; index++) {
      const [left, right] = measureStacks(index, 5, 8);
      expect(left + right).toBe(8);
    }
    expect(measureStacks(0, 5, 8)).toEqual([0, 8]);
    expect(measureStacks(0, 1, 8)).toEqual([0, 0]);
  });
});

describe('chapter names along the edge', () => {
  const chapters = [0, 1, 5, 9].map((spread) => ({
    title: `c${spread}`,
    page: spread * 2,
    spread,
    label: '',
  }));
  const named = (reading = chapters[0], length = 900) =>
    placeNames(chapters, 11, [120, 120, 120, 120], length, reading)
      .filter((name) => name.named)
      .map((name) => name.chapter.spread);

  it('leaves out what has no room', () => {
    expect(named()).toEqual([0, 5, 9]);
  });

  it('writes the one being read in any case', () => {
    expect(named(chapters[1])).toEqual([1, 5, 9]);
  });

  it('never lets two names touch or leave the strip', () => {
    for (const length of [200, 400, 600, 1200]) {
      const ends = placeNames(chapters, 11, [120, 120, 120, 120], length, undefined)
        .filter((name) => name.named)
        .map((name) => Math.min(name.at * length, length - 120));
      for (const [i, start] of ends.entries()) {
        expect(start).toBeGreaterThanOrEqual((ends[i - 1] ?? -120) + 120);
        expect(start + 120).toBeLessThanOrEqual(length);
      }
    }
  });
});

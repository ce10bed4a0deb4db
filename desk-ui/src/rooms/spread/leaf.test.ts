import { describe, expect, it } from 'vitest';
import { listLaid, listSides } from './leaf';
import type { SpreadView } from './wire';

const open = (numbers: number[], lying: number | null, turned: number | null): SpreadView =>
  ({
    pages: numbers.map((number) => ({ number, side: number % 2 ? 'recto' : 'verso' })),
    interleaf: { lying, turned, wishes: [] },
  }) as unknown as SpreadView;

describe('the leaf of a spread', () => {
  it('is met lifted, lying, and turned', () => {
    expect(listLaid(open([8, 9], 3, 4))).toEqual(['lifted', 'down', 'turned']);
    expect(listLaid(open([8, 9], null, null))).toEqual(['lifted']);
  });

  it('lies on one page at a time', () => {
    const view = open([8, 9], 3, 4);
    const see = (laid: 'lifted' | 'down' | 'turned') =>
      listSides(view, laid).map(({ number, veiled }) => [number, veiled]);
    expect(see('lifted')).toEqual([
      [8, null],
      [9, null],
    ]);
    expect(see('down')).toEqual([
      [8, null],
      [9, 3],
    ]);
    expect(see('turned')).toEqual([
      [8, 4],
      [9, null],
    ]);
  });

  it('turned before the first page lies over nothing', () => {
    expect(listSides(open([1], 1, 2), 'turned')).toEqual([
      { side: 'verso', number: null, veiled: 2 },
      { side: 'recto', number: 1, veiled: null },
    ]);
  });
});

import { describe, expect, it } from 'vitest';
import { stepTo, type PlacedPage } from './keys';

// Two rows: pages 1 to 8 above, 9 to 12 below, which stand a little farther right.
const PAGES: PlacedPage[] = Array.from({ length: 12 }, (_, i) =>
  i < 8
    ? { number: i + 1, left: 70 * i, top: 100.4 }
    : { number: i + 1, left: 70 * (i - 8) + 20, top: 300 },
);

describe('keys', () => {
  it.each([
    ['ArrowRight', 8, 9],
    ['ArrowRight', 12, 12],
    ['ArrowLeft', 9, 8],
    ['ArrowLeft', 1, 1],
    ['Home', 7, 1],
    ['End', 7, 12],
    ['ArrowDown', 3, 11],
    ['ArrowDown', 8, 12],
    ['ArrowDown', 11, 11],
    ['ArrowUp', 11, 3],
    ['ArrowUp', 2, 2],
    ['x', 2, null],
  ])('%s on page %d leads to %j', (key, from, to) => {
    expect(stepTo(key, from, PAGES)).toBe(to);
  });
});

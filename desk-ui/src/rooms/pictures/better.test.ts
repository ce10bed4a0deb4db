import { describe, expect, it } from 'vitest';
import { areAlike, listBetter } from './better';
import { findRival, listAlike, type Facts, type Verdicts } from './columns';

const facts = {
  id: ['a', 'b', 'c'],
  faces: [2, 1, 0],
  sharp: [100, 80, 95],
  clipped: [0, 0, 6],
  width_px: [6000, 6000, 4000],
  height_px: [4000, 4000, 3000],
  alike: [4, 4, -1],
} as unknown as Facts;

describe('what speaks for a picture', () => {
  it('is told only where it is seen', () => {
    expect(listBetter(facts, 0, 1)).toEqual(['1 face more', 'sharper by 25 %']);
    expect(listBetter(facts, 1, 0)).toEqual([]);
    const alike = { ...facts, alike: [4, 4, 4] };
    expect(listBetter(alike, 0, 2)).toEqual([
      '2 faces more',
      'loses 6 % less to black or white',
      '50 % more pixels along a line',
    ]);
  });

  it('is nothing where the pictures are of different things', () => {
    expect(listBetter(facts, 0, 2)).toEqual([]);
    expect([areAlike(facts, 0, 1), areAlike(facts, 0, 2), areAlike(facts, 2, 2)]).toEqual([
      true,
      false,
      false,
    ]);
  });
});

describe('what to compare with', () => {
  const verdicts = (runner_up: number[], instead: number[]) =>
    ({ runner_up, instead }) as unknown as Verdicts;

  it('is the runner-up, or what is taken instead', () => {
    expect(findRival(facts, verdicts([2, -1, -1], [-1, -1, -1]), 0)).toBe(2);
    expect(findRival(facts, verdicts([-1, -1, -1], [-1, 2, -1]), 1)).toBe(2);
  });

  it('is else a like one, else a neighbour', () => {
    const none = verdicts([-1, -1, -1], [-1, -1, -1]);
    expect(findRival(facts, none, 0)).toBe(1);
    expect(findRival(facts, none, 2)).toBe(1);
    expect(listAlike(facts, 1)).toEqual([0, 1]);
    expect(listAlike(facts, 2)).toEqual([2]);
  });
});

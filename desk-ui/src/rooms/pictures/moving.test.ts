import { describe, expect, it } from 'vitest';
import { findPlace, listBetween, stepDay, stepPlace } from './moving';

const shown = [0, 2, 3, 5, 8];
const days = [0, 0, 0, 1, 1, 1, 1, 2, 2];

describe('going from picture to picture', () => {
  it('passes what is not shown, and stays at the ends', () => {
    expect([0, 2, 3, 5, 8].map((at) => stepPlace(shown, at, 1))).toEqual([2, 3, 5, 8, 8]);
    expect([0, 2, 3, 5, 8].map((at) => stepPlace(shown, at, -1))).toEqual([0, 0, 2, 3, 5]);
    expect(findPlace(shown, 4)).toBe(3);
    expect(findPlace(shown, 9)).toBe(5);
    expect(stepPlace([], 4, 1)).toBe(4);
  });

  it('goes by day', () => {
    expect([0, 2, 3, 5, 8].map((at) => stepDay(shown, days, at, 1))).toEqual([3, 3, 8, 8, 8]);
    expect([0, 2, 3, 5, 8].map((at) => stepDay(shown, days, at, -1))).toEqual([0, 0, 0, 3, 3]);
  });

  it('lists what lies between, either way', () => {
    expect(listBetween(shown, 2, 5)).toEqual([2, 3, 5]);
    expect(listBetween(shown, 5, 2)).toEqual([2, 3, 5]);
  });
});

import { describe, expect, it } from 'vitest';
import { findStep, readNumber, writeDay, writeFigure, writeLength, writeNumber } from './numbers';

describe('numbers as they are written', () => {
  it.each([
    ['12.5', 12.5],
    [' 2,5 mm', 2.5],
    ['240 µm', 240],
    ['−3', -3],
    ['.5', 0.5],
    ['8.', 8],
  ])('%j is read', (written, number) => expect(readNumber(written)).toBe(number));

  it('nothing is no number', () => expect(readNumber('  ')).toBeNull());
  it.each(['x', '3 in', '1e3', '1.2.3', '12 cm', '5/8'])('%j is refused', (written) =>
    expect(readNumber(written)).toBeNaN(),
  );
});

describe('numbers as they are told', () => {
  it.each([
    [206.5, '206.5'],
    [303, '303.0'],
    [2, '2.00'],
    [-0.5, '−0.50'],
  ])('%d mm', (length, told) => expect(writeLength(length)).toBe(told));
  it('has no needless zeros', () => expect(writeNumber(2.5)).toBe('2.5'));
  it.each([
    ['square-fore', [0.5, 3.43], '0.50 to 3.43'],
    ['mull', [88.4, 287], '88.4 × 287.0'],
    ['holes', [12, 75.25], '12.0, 75.3'],
    ['thread-length', [3073], '3.1 m'],
  ])('%s', (name, values, told) => expect(writeFigure(name, values)).toBe(told));
  it.each([
    ['mm', 8, 0.5],
    ['µm', 240, 5],
    ['', 25, 1],
    ['', 0.5, 0.05],
    ['', 1, 0.05],
  ])('an arrow key in %j from %d', (unit, start, step) =>
    expect(findStep({ unit, value: start, start })).toBe(step),
  );
  it('a day in words', () => expect(writeDay('2026-11-29')).toBe('29 November 2026'));
  it('a day that is none stays as it is', () => expect(writeDay('soon')).toBe('soon'));
});

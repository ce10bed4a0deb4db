import { describe, expect, it } from 'vitest';
import { putIn, readNumber, writeNumber } from './numbers';

describe('numbers in fields', () => {
  it.each([
    ['0.4', 0.4],
    [' 0,4 ', 0.4],
    ['−0.3', -0.3],
    ['-.3', -0.3],
    ['+1', 1],
    ['423', 423],
  ])('reads %j', (written, value) => expect(readNumber(written)).toBe(value));

  it.each(['', 'x', '1 mm', '1.2.3', '--1', '1e5', '½'])('does not guess at %j', (written) =>
    expect(readNumber(written)).toBeNull(),
  );

  it('writes what it reads', () => {
    for (const value of [0, -0.3, 423.5]) expect(readNumber(writeNumber(value))).toBe(value);
    expect(writeNumber(null)).toBe('');
  });
});

describe('fields that the desk fills in', () => {
  it('take what is new, but where one wrote meanwhile', () => {
    const shown = { a: '1', b: '2' };
    expect(putIn({ a: '1', b: '7' }, shown, { a: '3', b: '4' })).toEqual({ a: '3', b: '7' });
  });

  it('are filled the first time, and lose what there is no more', () => {
    expect(putIn({}, {}, { a: '1' })).toEqual({ a: '1' });
    expect(putIn({ a: '1', b: '2' }, { a: '1', b: '2' }, { a: '' })).toEqual({ a: '' });
  });
});

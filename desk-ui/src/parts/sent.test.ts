import { describe, expect, test } from 'vitest';
import { isAsSent, mergeWritten } from './sent';

describe('what is written while an answer is on its way', () => {
  test('is told from what was sent', () => {
    const sent = { name: 'Porto', nights: 2 };
    expect(isAsSent(sent, { ...sent })).toBe(true);
    expect(isAsSent(sent, { ...sent, nights: 3 })).toBe(false);
  });

  test('stands; what was sent becomes what was kept of it', () => {
    const known = { size: '483 x 329', weight: '190', grain: 'long' };
    const sent = { size: '450x320' };
    const fresh = { size: '450 x 320', weight: '190', grain: 'short' };
    const written = { size: '450x320', weight: '120', grain: 'long', gone: 'x' };
    expect(mergeWritten(written, known, sent, fresh)).toEqual({
      size: '450 x 320',
      weight: '120',
      grain: 'short',
    });
    expect(mergeWritten({ ...written, size: '440' }, known, sent, fresh)['size']).toBe('440');
  });
});

import { describe, expect, it } from 'vitest';
import { letterAt, listRemarks } from './noticing';
import type { Piece } from './pieces';
import type { FindingHere, SpreadView } from './wire';

const finding = (severity: FindingHere['severity'], page: number, frame: string | null) =>
  ({ rule: 'soft', severity, message: '', remedy: '', page, frame }) satisfies FindingHere;

const piece = {
  id: 'across:sea',
  frames: ['6:sea', '7:sea'],
  box: { x: 0, y: 100, width: 420, height: 60 },
} as Piece;

const view = {
  pages: [
    { number: 6, side: 'verso' },
    { number: 7, side: 'recto' },
  ],
  findings: [finding('note', 6, null), finding('warn', 7, '7:sea'), finding('block', 7, '7:sea')],
} as unknown as SpreadView;

describe('remarks in the margin', () => {
  it('are lettered, the gravest first', () => {
    const found = listRemarks(view, [piece], 10);
    expect(found.map(({ letter, finding }) => [letter, finding.severity])).toEqual([
      ['a', 'block'],
      ['b', 'warn'],
      ['c', 'note'],
    ]);
    expect([0, 25, 26, 27, 52].map(letterAt)).toEqual(['a', 'z', 'aa', 'ab', 'ba']);
  });

  it('stand beside what they are about and never over each other', () => {
    const found = listRemarks(view, [piece], 10);
    expect(found.map(({ at, side }) => [at, side])).toEqual([
      [130, 'recto'],
      [140, 'recto'],
      [12, 'verso'],
    ]);
    expect(found.map(({ piece }) => piece?.id)).toEqual(['across:sea', 'across:sea', undefined]);
  });
});

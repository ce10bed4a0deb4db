import { describe, expect, it } from 'vitest';
import { bottom, right, type Box } from './boxes';
import { listLines, snapMove, snapScale, snapStretch, type Grid } from './snapping';

// Two A4 pages; one column each, a line of the baseline grid every 5 mm, gaps of 4 mm.
const grid: Grid = {
  pages: [
    { x: 0, y: 0, width: 210, height: 297 },
    { x: 210, y: 0, width: 210, height: 297 },
  ],
  columns: [
    { x: 22, y: 22, width: 168, height: 247 },
    { x: 230, y: 22, width: 168, height: 247 },
  ],
  bleed: 3,
  baselines: [],
  gap: 4,
};
const box: Box = { x: 60, y: 100, width: 90, height: 60 };

describe('pulling at the side of a text', () => {
  const pull = (side: -1 | 1, x: number) =>
    snapStretch(box, { x: side, y: 0 }, x, listLines(box, [], grid), 1.5).box;

  it('makes its measure another, and its height is left to its words', () => {
    expect(pull(1, 8)).toEqual({ ...box, width: 98 });
    expect(pull(-1, 8)).toEqual({ ...box, x: 68, width: 82 });
  });

  it('draws the side that is pulled to the column', () => {
    expect(right(pull(1, 39))).toBeCloseTo(190, 9);
    expect(pull(-1, -37).x).toBe(22);
  });
});

describe('moving a frame', () => {
  const move = (x: number, y: number, others: Box[] = []) =>
    snapMove(box, x, y, listLines(box, others, grid), 1.5);

  it('leaves it where nothing is near', () => {
    const { box: moved, guides } = move(7.3, 11.1);
    expect([moved.x, moved.y]).toEqual([67.3, 111.1]);
    expect(guides).toEqual([]);
  });

  it('draws its edges to the column, and says to which', () => {
    const { box: moved, guides } = move(-37.2, 0);
    expect(moved.x).toBe(22);
    expect(guides.map(({ axis, at }) => [axis, at])).toEqual([['x', 22]]);
    expect(right(move(41.1, 0).box)).toBeCloseTo(190, 9);
  });

  it('draws them to the trim, the bleed and the fold', () => {
    expect(move(-61, 0).box.x).toBe(0);
    expect(move(-62.9, 0).box.x).toBeCloseTo(-3, 9);
    expect(right(move(59.2, 0).box)).toBeCloseTo(210, 9);
    expect(bottom(move(0, 139.5).box)).toBeCloseTo(300, 9);
  });

  it('draws them to a neighbour, and to the gap beside it', () => {
    const above: Box = { x: 63, y: 30, width: 60, height: 60 };
    expect(move(2.4, 0, [above]).box.x).toBe(63);
    const { box: moved, guides } = move(20, -5.2, [above]);
    expect(moved.y).toBe(94);
    expect(guides).toContainEqual(expect.objectContaining({ axis: 'y', at: 94, kind: 'gap' }));
  });

  it('keeps the gap that two neighbours have', () => {
    const row: Box[] = [
      { x: 230, y: 100, width: 40, height: 60 },
      { x: 277, y: 100, width: 40, height: 60 },
    ];
    const { box: moved } = snapMove(box, 263.4, 0, listLines(box, row, grid), 1.5);
    expect(moved.x).toBe(324);
  });

  it('finds the middle between two neighbours', () => {
    const row: Box[] = [
      { x: 5, y: 100, width: 40, height: 60 },
      { x: 165, y: 100, width: 40, height: 60 },
    ];
    expect(move(-0.8, 0, row).box.x).toBe(60);
  });
});

describe('pulling at a handle', () => {
  const pull = (x: number, y: number, others: Box[] = []) =>
    snapScale(box, { x: 1, y: 1 }, x, y, listLines(box, others, grid), 1.5);

  it('stops at the column and keeps the shape', () => {
    const { box: pulled } = pull(39.2, 10);
    expect(right(pulled)).toBeCloseTo(190, 9);
    expect(pulled.width / pulled.height).toBeCloseTo(1.5, 9);
  });

  it('takes the nearer of two lines', () => {
    // Full height would reach 200 + 0.9; the side 190 - 0.3.
    const below: Box = { x: 60, y: 187.4, width: 30, height: 40 };
    const { box: pulled } = pull(39.7, 0, [below]);
    expect(right(pulled)).toBeCloseTo(190, 9);
  });
});

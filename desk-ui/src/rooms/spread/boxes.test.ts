import { describe, expect, it } from 'vitest';
import {
  findHome,
  HANDLES,
  LEAST_MM,
  resizeBox,
  right,
  bottom,
  scaleBox,
  stretchBox,
} from './boxes';

const box = { x: 20, y: 30, width: 120, height: 80 };
const pages = [
  { number: 12, side: 'verso' as const },
  { number: 13, side: 'recto' as const },
];

describe('scaling a frame', () => {
  it.each(HANDLES)('by the handle %o keeps its shape and what lies opposite', (handle) => {
    const scaled = scaleBox(box, handle, 7 * handle.x, 5 * handle.y);
    expect(scaled.width / scaled.height).toBeCloseTo(1.5, 9);
    expect(scaled.width).toBeGreaterThan(box.width);
    if (handle.x === 1) expect(scaled.x).toBe(box.x);
    if (handle.x === -1) expect(right(scaled)).toBeCloseTo(right(box), 9);
    if (handle.x === 0) expect(scaled.x + scaled.width / 2).toBeCloseTo(80, 9);
    if (handle.y === 1) expect(scaled.y).toBe(box.y);
    if (handle.y === -1) expect(bottom(scaled)).toBeCloseTo(bottom(box), 9);
    if (handle.y === 0) expect(scaled.y + scaled.height / 2).toBeCloseTo(70, 9);
  });

  it('follows the edge that was pulled farther', () => {
    expect(scaleBox(box, { x: 1, y: 1 }, 60, 1).height).toBeCloseTo(120, 9);
    expect(scaleBox(box, { x: 1, y: 1 }, 1, 40).width).toBeCloseTo(180, 9);
  });

  it('never makes it too small to be held', () => {
    expect(resizeBox(box, { x: 1, y: 1 }, 0).height).toBeCloseTo(LEAST_MM, 9);
    const flat = stretchBox(box, { x: -1, y: 0 }, 500, 0);
    expect(flat.width).toBe(LEAST_MM);
    expect(right(flat)).toBe(140);
  });
});

describe('the page a frame is told of', () => {
  it('is the one its left edge lies on', () => {
    expect(findHome(box, pages, 210)).toEqual({ page: 12, box });
    expect(findHome({ ...box, x: 230 }, pages, 210)).toEqual({ page: 13, box });
    expect(findHome({ ...box, x: 150 }, pages, 210).page).toBe(12);
  });

  it('is the right one from the fold on', () => {
    expect(findHome({ ...box, x: 209.9 }, pages, 210)).toEqual({
      page: 13,
      box: { ...box, x: -0.1 },
    });
  });

  it('is the only one there is', () => {
    expect(findHome({ ...box, x: 100 }, [pages[1]!], 210).page).toBe(13);
    expect(findHome({ ...box, x: 300 }, [pages[0]!], 210).page).toBe(12);
  });
});

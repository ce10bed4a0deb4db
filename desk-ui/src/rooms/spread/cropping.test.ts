import { describe, expect, it } from 'vitest';
import {
  cropBy,
  cutFrame,
  isWhole,
  judgeFaces,
  measurePpi,
  panCrop,
  placeWhole,
  WHOLE,
  zoomCrop,
} from './cropping';

const box = { x: 20, y: 30, width: 120, height: 80 };
const crop = { x: 0.2, y: 0.1, width: 0.5, height: 0.5 };

describe('the picture behind its frame', () => {
  it('lies where the frame shows its part of it', () => {
    const whole = placeWhole(box, crop);
    expect(whole).toEqual({ x: -28, y: 14, width: 240, height: 160 });
    expect(cropBy(box, whole)).toEqual(crop);
  });

  it('is pushed and never leaves the frame empty', () => {
    const pushed = panCrop(crop, box, 12, -8);
    expect(pushed.x).toBeCloseTo(0.15, 9);
    expect(pushed.y).toBeCloseTo(0.15, 9);
    expect([pushed.width, pushed.height]).toEqual([0.5, 0.5]);
    expect(panCrop(crop, box, 1000, 1000)).toMatchObject({ x: 0, y: 0 });
    expect(panCrop(crop, box, -1000, -1000)).toMatchObject({ x: 0.5, y: 0.5 });
  });

  it('is made larger about the middle, and smaller until it only just fills the frame', () => {
    expect(zoomCrop(crop, 2)).toEqual({ x: 0.325, y: 0.225, width: 0.25, height: 0.25 });
    const most = zoomCrop(crop, 0.01);
    expect(isWhole(most)).toBe(true);
    const tall = zoomCrop({ x: 0, y: 0, width: 0.3, height: 0.6 }, 0.1);
    expect(tall.height).toBe(1);
    expect(tall.width).toBeCloseTo(0.5, 9);
  });

  it('stays where it is when the frame is cut', () => {
    const cut = cutFrame(box, crop, { x: 1, y: 0 }, -60, 0);
    expect(cut.box).toEqual({ ...box, width: 60 });
    expect(cut.crop).toEqual({ ...crop, width: 0.25 });
    const out = cutFrame(box, crop, { x: 1, y: 1 }, 500, 500);
    expect(out.box).toEqual({ x: 20, y: 30, width: 192, height: 144 });
    expect(out.crop.x + out.crop.width).toBeCloseTo(1, 9);
  });
});

describe('what is told of a crop', () => {
  it('is how many pixels an inch has', () => {
    // 6000 px over 508 mm (20 inches) are 300 an inch: by the definition of the inch, 25.4 mm.
    expect(measurePpi(6000, WHOLE, { ...box, width: 508 })).toBeCloseTo(300, 9);
    expect(measurePpi(6000, crop, { ...box, width: 254 })).toBeCloseTo(300, 9);
  });

  it('is which faces it cuts and which it leaves out', () => {
    const faces = [
      { x: 0.3, y: 0.2, width: 0.1, height: 0.1 },
      { x: 0.65, y: 0.2, width: 0.1, height: 0.1 },
      { x: 0.85, y: 0.2, width: 0.1, height: 0.1 },
    ];
    expect(judgeFaces(faces, WHOLE)).toEqual({ cut: 0, out: 0 });
    expect(judgeFaces(faces, crop)).toEqual({ cut: 1, out: 1 });
  });
});

import { describe, expect, it } from 'vitest';
import { fitAll, magnify, magnifyAt, placePicture, pull, step, WHOLE } from './zoom';

const picture = { width: 6000, height: 4000 };
const window = { width: 600, height: 500 };
const fit = fitAll([picture], window);

describe('looking through one glass', () => {
  it('shows pictures of two sizes whole, at one magnification', () => {
    const small = { width: 3000, height: 4000 };
    const both = fitAll([picture, small], window);
    expect(both).toBeCloseTo(0.1);
    for (const one of [picture, small]) {
      const place = placePicture(one, window, WHOLE, both);
      expect(place.width / one.width).toBeCloseTo(both);
      expect(place.left * 2 + place.width).toBeCloseTo(window.width);
    }
  });

  it('never leaves an edge open', () => {
    const corner = placePicture(picture, window, { scale: 1, x: 0, y: 1 }, fit);
    expect(corner).toEqual({ left: 0, top: window.height - 4000, width: 6000, height: 4000 });
    const pulled = pull({ scale: 1, x: 0.1, y: 0.9 }, picture, window, 5000, -5000);
    const place = placePicture(picture, window, pulled, fit);
    expect(place.left).toBeCloseTo(0);
    expect(place.top + place.height).toBeCloseTo(window.height);
  });

  it('follows the hand pixel by pixel', () => {
    const before = { scale: 1, x: 0.5, y: 0.5 };
    const after = pull(before, picture, window, 40, -25);
    const [one, other] = [before, after].map((glass) =>
      placePicture(picture, window, glass, fit),
    ) as [ReturnType<typeof placePicture>, ReturnType<typeof placePicture>];
    expect(other.left - one.left).toBeCloseTo(40);
    expect(other.top - one.top).toBeCloseTo(-25);
    expect(pull(WHOLE, picture, window, 9, 9)).toEqual(WHOLE);
  });

  it('keeps the point under the pointer', () => {
    const point = { x: 450, y: 300 };
    const before = placePicture(picture, window, WHOLE, fit);
    const glass = magnifyAt(WHOLE, 1, fit, picture, window, point);
    const after = placePicture(picture, window, glass, fit);
    expect((point.x - after.left) / after.width).toBeCloseTo(
      (point.x - before.left) / before.width,
    );
  });

  it('steps in and out between the whole and eightfold', () => {
    expect(step(step(WHOLE, 1, fit), -1, fit)).toEqual(WHOLE);
    expect(step(WHOLE, -1, fit)).toEqual(WHOLE);
    expect(magnify(WHOLE, 100, fit).scale).toBe(8);
  });
});

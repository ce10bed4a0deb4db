/** Two pictures looked at through one glass: how large, and which part. Pure. */

/** What is looked at, the same for all pictures shown with it. */
export interface Glass {
  /** Screen px a picture px; null shows pictures whole. */
  scale: number | null;
  /** The point in the middle, in fractions of the picture. */
  x: number;
  y: number;
}

export interface Size {
  width: number;
  height: number;
}

export interface Place {
  left: number;
  top: number;
  width: number;
  height: number;
}

export const WHOLE: Glass = { scale: null, x: 0.5, y: 0.5 };
const MOST = 8;
const STEP = Math.SQRT2;

/** The scale at which every picture is seen whole in its window: the smallest of theirs. */
export function fitAll(pictures: readonly Size[], window: Size): number {
  return Math.min(
    ...pictures.map((p) => Math.min(window.width / p.width, window.height / p.height)),
  );
}

/** Where a picture lies in its window. One smaller than the window stands in the middle. */
export function placePicture(picture: Size, window: Size, glass: Glass, fit: number): Place {
  const scale = glass.scale ?? fit;
  const [width, height] = [picture.width * scale, picture.height * scale];
  return {
    left: placeAlong(width, window.width, glass.x),
    top: placeAlong(height, window.height, glass.y),
    width,
    height,
  };
}

function placeAlong(length: number, window: number, at: number): number {
  if (length <= window) return (window - length) / 2;
  return Math.min(0, Math.max(window - length, window / 2 - at * length));
}

/** The glass a step larger (1) or smaller (-1), about its middle. */
export function step(glass: Glass, by: 1 | -1, fit: number): Glass {
  return magnify(glass, (glass.scale ?? fit) * STEP ** by, fit);
}

/** The glass at another scale; whole again where that would show more than all. */
export function magnify(glass: Glass, scale: number, fit: number): Glass {
  if (scale <= fit * 1.001) return WHOLE;
  return { ...glass, scale: Math.min(scale, Math.max(MOST, fit)) };
}

/** The glass after the picture was pulled by `dx`, `dy` screen px. */
export function pull(glass: Glass, picture: Size, window: Size, dx: number, dy: number): Glass {
  if (glass.scale === null) return glass;
  const move = (at: number, by: number, length: number, seen: number): number => {
    const half = Math.min(0.5, seen / 2 / length);
    return Math.min(1 - half, Math.max(half, at - by / length));
  };
  return {
    ...glass,
    x: move(glass.x, dx, picture.width * glass.scale, window.width),
    y: move(glass.y, dy, picture.height * glass.scale, window.height),
  };
}

/** The glass magnified about a point of the window that stays where it is. */
export function magnifyAt(
  glass: Glass,
  scale: number,
  fit: number,
  picture: Size,
  window: Size,
  point: { x: number; y: number },
): Glass {
  const before = placePicture(picture, window, glass, fit);
  const at = {
    x: (point.x - before.left) / before.width,
    y: (point.y - before.top) / before.height,
  };
  const next = magnify(glass, scale, fit);
  if (next.scale === null) return next;
  const middle = (along: number, window: number, point: number, length: number): number =>
    along + (window / 2 - point) / length;
  const moved = {
    ...next,
    x: middle(at.x, window.width, point.x, picture.width * next.scale),
    y: middle(at.y, window.height, point.y, picture.height * next.scale),
  };
  return pull(moved, picture, window, 0, 0);
}

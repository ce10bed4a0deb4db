/**
 * Boxes over an open spread, in mm from the trim corner of its left page: the right page begins
 * one page's width along. Pure, so that it can be tested without a browser.
 */

export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** Which edges a handle moves: -1 the left or upper one, 1 the right or lower one, 0 neither. */
export interface Handle {
  x: -1 | 0 | 1;
  y: -1 | 0 | 1;
}

export const HANDLES: readonly Handle[] = [
  { x: -1, y: -1 },
  { x: 0, y: -1 },
  { x: 1, y: -1 },
  { x: 1, y: 0 },
  { x: 1, y: 1 },
  { x: 0, y: 1 },
  { x: -1, y: 1 },
  { x: -1, y: 0 },
];

/** No frame is made smaller than this: it could not be taken hold of again. */
export const LEAST_MM = 8;

export const right = (box: Box): number => box.x + box.width;
export const bottom = (box: Box): number => box.y + box.height;

/** Round to what is written in the book's files: a hundredth of a mm is finer than any trimmer. */
export const round = (mm: number): number => Math.round(mm * 100) / 100;

export const roundBox = (box: Box): Box => ({
  x: round(box.x),
  y: round(box.y),
  width: round(box.width),
  height: round(box.height),
});

export const moveBox = (box: Box, x: number, y: number): Box => ({
  ...box,
  x: box.x + x,
  y: box.y + y,
});

export function sameBox(a: Box, b: Box, within = 0.005): boolean {
  return (['x', 'y', 'width', 'height'] as const).every(
    (side) => Math.abs(a[side] - b[side]) <= within,
  );
}

/** Move the edges of a handle by mm; each stops before the frame would be too small. */
export function stretchBox(box: Box, handle: Handle, x: number, y: number): Box {
  const width = handle.x ? Math.max(box.width + handle.x * x, LEAST_MM) : box.width;
  const height = handle.y ? Math.max(box.height + handle.y * y, LEAST_MM) : box.height;
  return anchorBox(box, handle, width, height);
}

/**
 * Move a handle by mm and keep the frame's shape. The opposite corner stays where it is; with a
 * handle at the middle of an edge, the middle of the opposite edge does.
 */
export function scaleBox(box: Box, handle: Handle, x: number, y: number): Box {
  const alongX = handle.x ? (box.width + handle.x * x) / box.width : null;
  const alongY = handle.y ? (box.height + handle.y * y) / box.height : null;
  // At a corner the edge that was pulled farther leads.
  const wished =
    alongX !== null && alongY !== null
      ? Math.abs(alongX - 1) >= Math.abs(alongY - 1)
        ? alongX
        : alongY
      : (alongX ?? alongY ?? 1);
  return resizeBox(box, handle, wished);
}

/** Make a frame `factor` times as large, held where the handle's opposite side is. */
export function resizeBox(box: Box, handle: Handle, factor: number): Box {
  const least = LEAST_MM / Math.min(box.width, box.height);
  const by = Math.max(factor, least);
  return anchorBox(box, handle, box.width * by, box.height * by);
}

function anchorBox(box: Box, handle: Handle, width: number, height: number): Box {
  // 1 holds the left or upper side, -1 the right or lower one, 0 the middle.
  const held = (start: number, old: number, fresh: number, side: number): number =>
    start + ((old - fresh) * (1 - side)) / 2;
  return {
    x: held(box.x, box.width, width, handle.x),
    y: held(box.y, box.height, height, handle.y),
    width,
    height,
  };
}

/** The page a frame is told of: the one that `at` (its left edge) lies on, and its box there. */
export function findHome(
  box: Box,
  pages: readonly { number: number; side: 'verso' | 'recto' }[],
  trimWidth: number,
  at = box.x,
): { page: number; box: Box } {
  const verso = pages.find((page) => page.side === 'verso');
  const recto = pages.find((page) => page.side === 'recto');
  // A frame that begins at the fold, or in the last hair before it, belongs to the right page.
  const onLeft = verso && (!recto || at < trimWidth - 0.5);
  if (onLeft) return { page: verso.number, box: roundBox(box) };
  return { page: recto?.number ?? 0, box: roundBox(moveBox(box, -trimWidth, 0)) };
}

/** Whether two boxes share some of their height (`axis` "x": they lie beside each other), or width. */
export function facing(a: Box, b: Box, axis: 'x' | 'y'): boolean {
  return axis === 'x' ? a.y < bottom(b) && b.y < bottom(a) : a.x < right(b) && b.x < right(a);
}

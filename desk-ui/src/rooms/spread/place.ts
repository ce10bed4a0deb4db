/** Where a box in mm lies over the open book, as shares of it: right at every size of the window. */
import type { Box } from './boxes';
import type { SpreadView } from './wire';

export function styleBox(box: Box, view: SpreadView): string {
  const wide = 2 * view.trim_width_mm;
  const share = (mm: number, of: number): string => `${((100 * mm) / of).toFixed(4)}%`;
  return [
    `left: ${share(box.x, wide)}`,
    `top: ${share(box.y, view.trim_height_mm)}`,
    `width: ${share(box.width, wide)}`,
    `height: ${share(box.height, view.trim_height_mm)}`,
  ].join('; ');
}

/** The same for a part of a box, given in fractions of it. */
export const stylePart = (part: Box): string =>
  `left: ${100 * part.x}%; top: ${100 * part.y}%; width: ${100 * part.width}%; height: ${100 * part.height}%`;

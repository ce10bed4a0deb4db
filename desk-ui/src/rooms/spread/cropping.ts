/** A picture behind its frame: what the frame shows of it. Pure; crops in fractions of the picture. */
import { bottom, right, stretchBox, type Box, type Handle } from './boxes';

const MM_PER_INCH = 25.4;
/** The smallest part that a frame may show, of the picture's width or height. */
const LEAST_PART = 0.05;

export const WHOLE: Box = { x: 0, y: 0, width: 1, height: 1 };

/** Where the whole picture would lie, in mm, when the frame `box` shows `crop` of it. */
export function placeWhole(box: Box, crop: Box): Box {
  const width = box.width / crop.width;
  const height = box.height / crop.height;
  return { x: box.x - crop.x * width, y: box.y - crop.y * height, width, height };
}

/** What the frame `box` shows of a picture that lies at `whole`. */
export function cropBy(box: Box, whole: Box): Box {
  return {
    x: (box.x - whole.x) / whole.width,
    y: (box.y - whole.y) / whole.height,
    width: box.width / whole.width,
    height: box.height / whole.height,
  };
}

/** Push the picture by mm behind a frame that stays; the frame remains full. */
export function panCrop(crop: Box, box: Box, x: number, y: number): Box {
  return keepInside({
    ...crop,
    x: crop.x - (x * crop.width) / box.width,
    y: crop.y - (y * crop.height) / box.height,
  });
}

/** Make the picture `factor` times as large behind its frame, about the frame's middle. */
export function zoomCrop(crop: Box, factor: number): Box {
  const most = Math.min(1 / crop.width, 1 / crop.height);
  const least = LEAST_PART / Math.min(crop.width, crop.height);
  const by = Math.min(Math.max(1 / factor, least), most);
  const width = crop.width * by;
  const height = crop.height * by;
  return keepInside({
    x: crop.x + (crop.width - width) / 2,
    y: crop.y + (crop.height - height) / 2,
    width,
    height,
  });
}

/** Pull an edge of the frame over a picture that stays; the frame ends where the picture does. */
export function cutFrame(box: Box, crop: Box, handle: Handle, x: number, y: number) {
  const whole = placeWhole(box, crop);
  const wished = stretchBox(box, handle, x, y);
  const left = Math.max(wished.x, whole.x);
  const top = Math.max(wished.y, whole.y);
  const cut = {
    x: left,
    y: top,
    width: Math.min(right(wished), right(whole)) - left,
    height: Math.min(bottom(wished), bottom(whole)) - top,
  };
  return { box: cut, crop: keepInside(cropBy(cut, whole)) };
}

function keepInside(crop: Box): Box {
  const width = Math.min(crop.width, 1);
  const height = Math.min(crop.height, 1);
  return {
    x: Math.min(Math.max(crop.x, 0), 1 - width),
    y: Math.min(Math.max(crop.y, 0), 1 - height),
    width,
    height,
  };
}

/** A frame about the middle of `box`, of its area, that shows a whole picture. */
export function fitCrop(
  box: Box,
  { width_px, height_px }: { width_px: number; height_px: number },
): Box {
  const shape = width_px / height_px;
  const width = Math.sqrt(box.width * box.height * shape);
  const height = width / shape;
  return {
    x: box.x + (box.width - width) / 2,
    y: box.y + (box.height - height) / 2,
    width,
    height,
  };
}

/** Whether all of the picture is shown, but for rounding. */
export const isWhole = (crop: Box): boolean => crop.width > 0.9995 && crop.height > 0.9995;

/** The same crop as it is written: fractions with no more figures than a pixel needs. */
export const roundCrop = (crop: Box): Box => {
  const fine = (part: number): number => Math.round(part * 1e5) / 1e5;
  return { x: fine(crop.x), y: fine(crop.y), width: fine(crop.width), height: fine(crop.height) };
};

/** Pixels an inch of what is shown, on paper. */
export function measurePpi(widthPx: number, crop: Box, box: Box): number {
  return (widthPx * crop.width * MM_PER_INCH) / box.width;
}

/** How faces fare in a crop: how many it cuts through, and how many it leaves out. */
export function judgeFaces(faces: readonly Box[], crop: Box): { cut: number; out: number } {
  let cut = 0;
  let out = 0;
  for (const face of faces) {
    const width = Math.min(right(face), right(crop)) - Math.max(face.x, crop.x);
    const height = Math.min(bottom(face), bottom(crop)) - Math.max(face.y, crop.y);
    const seen = (Math.max(width, 0) * Math.max(height, 0)) / (face.width * face.height);
    if (seen <= 0) out += 1;
    else if (seen < 0.999) cut += 1;
  }
  return { cut, out };
}

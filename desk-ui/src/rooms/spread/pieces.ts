/** What lies on the open spread, each thing once, in reading order and in spread coordinates. */
import { findHome, moveBox, type Box } from './boxes';
import { roundCrop } from './cropping';
import type { Grid } from './snapping';
import type { Frame, Kind, PictureIn, SpreadView, TextIn } from './wire';

export interface Piece {
  id: string;
  /** Ids of the server's frames that it stands for: two where a picture lies across. */
  frames: string[];
  page: number;
  kind: Kind;
  block: string | null;
  box: Box;
  movable: boolean;
  why_not: string;
  picture: PictureIn | null;
  texts: TextIn[];
  /** Whether a text stands where a hand put it. */
  byHand: boolean;
}

/** How far a page's own coordinates lie from the spread's. */
export function offsetOf(view: SpreadView, page: number): number {
  const side = view.pages.find(({ number }) => number === page)?.side;
  return side === 'recto' ? view.trim_width_mm : 0;
}

/** List what lies on the spread; the two halves of a picture across are one piece. */
export function listPieces(view: SpreadView): Piece[] {
  const pieces = new Map<string, Piece>();
  for (const frame of view.frames) {
    const id = frame.picture?.across ? `across:${frame.picture.photo}` : frame.id;
    const known = pieces.get(id);
    if (known) known.frames.push(frame.id);
    else pieces.set(id, { ...takeFrame(view, frame), id });
  }
  return [...pieces.values()];
}

function takeFrame(view: SpreadView, frame: Frame): Piece {
  const { id, page, kind, block, movable, why_not, picture, texts } = frame;
  const byHand = frame.by_hand;
  const box = picture?.across ? picture.whole_box : moveBox(frame.box, offsetOf(view, page), 0);
  return { id, frames: [id], page, kind, block, box, movable, why_not, picture, texts, byHand };
}

/** Trim boxes of the spread's pages. */
export function listPages(view: SpreadView): Box[] {
  return view.pages.map(({ number }) => ({
    x: offsetOf(view, number),
    y: 0,
    width: view.trim_width_mm,
    height: view.trim_height_mm,
  }));
}

/** What the spread gives a moved picture to hold on to. */
export function takeGrid(view: SpreadView): Grid {
  const columns = view.pages.flatMap((page) =>
    page.columns.map((column) => moveBox(column, offsetOf(view, page.number), 0)),
  );
  return {
    columns,
    pages: listPages(view),
    bleed: view.bleed_mm,
    baselines: listBaselines(view),
    gap: view.gap_mm,
  };
}

/** Heights of the lines of the baseline grid; facing pages share theirs. */
export function listBaselines(view: SpreadView): number[] {
  const { baseline_first_mm: first = 0, baseline_step_mm: step = 0 } = view.pages[0] ?? {};
  if (step <= 0) return [];
  const lines: number[] = [];
  for (let at = first; at < view.trim_height_mm; at += step) lines.push(at);
  return lines;
}

/** Where a text is to stand, as the server is told: on the page where its middle is. */
export function tellText(view: SpreadView, piece: Piece, box: Box) {
  const { page: on, box: at } = findHome(
    box,
    view.pages,
    view.trim_width_mm,
    box.x + box.width / 2,
  );
  return { frame: piece.id, on, left: at.x, top: at.y, width: at.width };
}

/** The id that a text has once it stands on another page. */
export const renameFor = (id: string, page: number): string =>
  `${id.slice(0, id.lastIndexOf('@'))}@${page}`;

/** Where a picture is to lie, as the server is told: on the page where its left edge is. */
export function tellPlace(view: SpreadView, piece: Piece, box: Box, crop: Box) {
  const home = findHome(box, view.pages, view.trim_width_mm);
  return { photo: piece.picture?.photo ?? '', ...home, crop: roundCrop(crop) };
}

/** Moving a picture or a text about the spread: by the pointer with what pulls at it, by keys without. */
import type { Moves } from '../../parts/drag';
import { moveBox, resizeBox, stretchBox, type Box, type Handle } from './boxes';
import type { OpenedSpread } from './opened.svelte';
import type { Piece } from './pieces';
import { listLines, snapMove, snapScale, snapStretch, type Line, type Snapped } from './snapping';

/** An edge is drawn to a line that is no farther from it on the screen. */
const SNAP_PX = 5;
const LONG_MM = 5;

type Carry = (start: Box, x: number, y: number, lines: Line[], reach: number) => Snapped;

/** Take a picture up: where it was, and the lines it may be drawn to; null where it stays. */
function takeUp(spread: OpenedSpread, piece: Piece): { start: Box; lines: Line[] } | null {
  spread.choose(piece.id);
  const held = spread.doing === 'lay' ? spread.takeUp(piece) : null;
  if (!held || !spread.grid) return null;
  // A text keeps to other texts too, and a caption to the white that captions have everywhere.
  const beside = piece.picture ? spread.pictures : spread.pieces;
  const others = beside.filter(({ id }) => id !== piece.id).map(({ box }) => box);
  const gap = piece.kind === 'caption' ? spread.view?.caption_gap_mm : undefined;
  const grid = { ...spread.grid, gap: gap ?? spread.grid.gap };
  return { start: held.box, lines: listLines(held.box, others, grid) };
}

function follow(spread: OpenedSpread, find: () => Piece, scale: () => number, carry: Carry): Moves {
  let taken: ReturnType<typeof takeUp> = null;
  return {
    begin: () => (taken = takeUp(spread, find())) !== null,
    move(by, free) {
      if (!taken) return;
      const px = scale();
      const lines = free ? [] : taken.lines;
      const { box, guides } = carry(taken.start, by.x / px, by.y / px, lines, SNAP_PX / px);
      spread.carry(box, guides);
    },
    drop: () => void spread.layDown(),
    cancel: () => spread.letBack(),
  };
}

/** Moving the picture itself; `scale` is px a mm. */
export function movePiece(spread: OpenedSpread, find: () => Piece, scale: () => number): Moves {
  return {
    ...follow(spread, find, scale, snapMove),
    step(x, y, long) {
      const taken = takeUp(spread, find());
      const by = long ? LONG_MM : 1;
      if (!taken) return;
      spread.carry(moveBox(taken.start, x * by, y * by));
      spread.layDownSoon();
    },
  };
}

/** Pulling at one of its corners and edges. */
export function pullPiece(
  spread: OpenedSpread,
  find: () => Piece,
  scale: () => number,
  handle: Handle,
): Moves {
  return follow(spread, find, scale, (start, x, y, lines, reach) =>
    find().picture
      ? snapScale(start, handle, x, y, lines, reach)
      : snapStretch(start, handle, x, lines, reach),
  );
}

/** Make it wider (`way` 1) or narrower (-1) by 1 mm, or 5, about its upper left corner. */
export function growPiece(spread: OpenedSpread, piece: Piece, way: number, long: boolean): void {
  const taken = takeUp(spread, piece);
  if (!taken) return;
  const mm = way * (long ? LONG_MM : 1);
  const factor = (taken.start.width + mm) / taken.start.width;
  spread.carry(
    piece.picture
      ? resizeBox(taken.start, { x: 1, y: 1 }, factor)
      : stretchBox(taken.start, { x: 1, y: 0 }, mm, 0),
  );
  spread.layDownSoon();
}

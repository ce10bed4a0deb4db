/** What things on the spread are called: for the eye, and for the ear. */
import { count, fill, texts } from '../../texts';
import { measurePpi } from './cropping';
import type { Box } from './boxes';
import type { Held } from './opened.svelte';
import type { Piece } from './pieces';
import type { PictureIn, TextIn } from './wire';

const words = texts.spread;
const LONGEST = 48;
const LONG = 240;

export const whole = (mm: number): number => Math.round(mm);

/** A text's beginning, without its marks. */
export function quote(source: string, most = LONG): string {
  const plain = source
    .replace(/[#*_>`[\]]/g, '')
    .replace(/\s+/g, ' ')
    .trim();
  if (!plain) return words.emptyText;
  if (plain.length <= most) return plain;
  const cut = plain.slice(0, most);
  return `${cut.slice(0, Math.max(cut.lastIndexOf(' '), 1))} …`;
}

/** What is seen of a picture, as large as it is now: in the hand, or as it lies. */
export function seeNow(piece: Piece, held: Held | null): { box: Box; crop: Box } | null {
  if (held?.piece.id === piece.id) return { box: held.box, crop: held.crop };
  return piece.picture ? { box: piece.box, crop: piece.picture.crop } : null;
}

export function ppiOf(picture: PictureIn, { box, crop }: { box: Box; crop: Box }): number {
  return Math.round(measurePpi(picture.width_px, crop, box));
}

/** How large the picture may be with this crop; what is cut away makes it smaller. */
export function largestOf(picture: PictureIn, crop: Box): { width: number; height: number } {
  return {
    width: (picture.largest_mm.width * crop.width) / picture.crop.width,
    height: (picture.largest_mm.height * crop.height) / picture.crop.height,
  };
}

/** The name that is read out for a piece. */
export function namePiece(piece: Piece, held: Held | null): string {
  const now = seeNow(piece, held);
  if (piece.picture && now) {
    return fill(words.pictureName, {
      name: piece.picture.name,
      width: whole(now.box.width),
      height: whole(now.box.height),
      ppi: ppiOf(piece.picture, now),
    });
  }
  return nameText(piece);
}

function nameText(piece: Piece): string {
  const kind = words.kind[piece.kind];
  const first = piece.texts[0];
  return first ? fill(words.textName, { kind, words: quote(first.source, LONGEST) }) : kind;
}

/** The heading of a piece in the side. */
export const headPiece = (piece: Piece): string => piece.picture?.name ?? words.kind[piece.kind];

/** How much of a text finds no room, in words; null where all of it does. */
export function nameOverset(text: TextIn): { short: string; long: string } | null {
  if (!text.overset) return null;
  return {
    short: count(words.oversetWords, text.overset.words),
    long: fill(words.oversetDo, { lines: count(words.lines, text.overset.lines) }),
  };
}

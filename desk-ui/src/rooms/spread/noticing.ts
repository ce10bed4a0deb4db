/** Findings on the spread, lettered as a proofreader letters remarks in the margin. Pure. */
import type { Piece } from './pieces';
import type { FindingHere, SpreadView } from './wire';

export interface Remark {
  /** "a", "b" … "z", "aa" … */
  letter: string;
  finding: FindingHere;
  /** What it is about; null where it is about the page. */
  piece: Piece | null;
  side: 'verso' | 'recto';
  /** Height of its mark in the margin, mm from the head. */
  at: number;
}

const RANK = { block: 0, warn: 1, note: 2 } as const;

export const letterAt = (index: number): string =>
  (index >= 26 ? letterAt(Math.floor(index / 26) - 1) : '') +
  String.fromCharCode(97 + (index % 26));

/** List the findings, the gravest first, each with its place in the margin, `apart` mm apart. */
export function listRemarks(view: SpreadView, pieces: readonly Piece[], apart: number): Remark[] {
  const remarks = [...view.findings]
    .sort((a, b) => RANK[a.severity] - RANK[b.severity] || a.page - b.page)
    .map((finding, index) => {
      const piece = pieces.find(({ frames }) => frames.includes(finding.frame ?? '')) ?? null;
      const page = view.pages.find(({ number }) => number === finding.page) ?? view.pages[0];
      const middle = piece ? piece.box.y + Math.min(piece.box.height / 2, 40) : 12;
      const side = page?.side ?? 'recto';
      return { letter: letterAt(index), finding, piece, side, at: Math.max(middle, 4) };
    });
  for (const side of ['verso', 'recto'] as const) {
    let free = 0;
    for (const remark of remarks.filter((one) => one.side === side).sort((a, b) => a.at - b.at)) {
      remark.at = Math.max(remark.at, free);
      free = remark.at + apart;
    }
  }
  return remarks;
}

/**
 * Where the paper of a gathering lies, seen from the head.
 *
 * Across, one opening of the book is one unit: leaf k (from 1) stands at k - 1/2, the gap before
 * leaf e + 1 at e, so that a gathering of s sheets reaches from 0 to 2 s and its centre lies at s.
 * Down, 0 is where the leaves' edges are and 1 the fold of the outermost thing.
 */
export interface Gathered {
  sheets: number;
  first_page: number;
  last_page: number;
}

export interface Leaf {
  depth: number | null;
  ends: { after_page: number }[];
}

export type Line = readonly (readonly [x: number, y: number])[];

/** The sheet (1 is the outermost) that carries a page. */
export function sheetOf(page: number, gathering: Gathered): number {
  const leaf = Math.ceil((page - gathering.first_page + 1) / 2);
  return Math.min(leaf, 2 * gathering.sheets + 1 - leaf);
}

/** The page on the other half of the same side of the sheet. */
export function conjugateOf(page: number, gathering: Gathered): number {
  return gathering.first_page + gathering.last_page - page;
}

/** The two pages that face each other on one side of the innermost sheet. */
export function centreOf(gathering: Gathered): [number, number] {
  const left = gathering.first_page + 2 * gathering.sheets - 1;
  return [left, left + 1];
}

/** The gap (from 0, before the first leaf) that lies after a page. */
export function gapAfter(page: number, gathering: Gathered): number {
  return (page + 1 - gathering.first_page) / 2;
}

/** A sheet folded round those inside it. */
export function foldSheet(sheet: number, sheets: number): Line {
  return fold(sheet - 0.5, sheets);
}

/** An interleaf folded round the sheets inside it; a leaf pasted in is a short stroke. */
export function foldLeaf(leaf: Leaf, gathering: Gathered): Line {
  const gap = gapAfter(leaf.ends[0]?.after_page ?? 0, gathering);
  if (leaf.depth === null) {
    return [
      [gap, 0],
      [gap, 0.22],
    ];
  }
  // Both leaves in the centre: nothing is left between them but the fold itself.
  return leaf.depth === gathering.sheets
    ? fold(leaf.depth - 0.06, gathering.sheets)
    : fold(leaf.depth, gathering.sheets);
}

/** A line as the points of an SVG polyline. */
export function writePoints(line: Line): string {
  return line.map(([x, y]) => `${x},${y}`).join(' ');
}

function fold(from: number, sheets: number): Line {
  return [
    [from, 0],
    [sheets, (sheets - from) / sheets],
    [2 * sheets - from, 0],
  ];
}

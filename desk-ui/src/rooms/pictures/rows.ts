/** Pictures in rows of one width, day by day: pure arithmetic, so that it is known where all lie. */

/** What of the pictures the rows need to know; the columns are read by a picture's place in them. */
export interface Shapes {
  day: readonly number[];
  width_px: readonly number[];
  height_px: readonly number[];
  alike: readonly number[];
  scene: readonly number[];
}

export interface Measures {
  /** Width of the rows in px. */
  width: number;
  /** Height in px that pictures have at best. */
  height: number;
  /** Height in px below the pictures of a row. */
  below: number;
}

export interface Cell {
  /** Place of the picture in the columns. */
  at: number;
  x: number;
  width: number;
}

/** Pictures of a row that belong together: nearly alike, or one scene as it went on. */
export interface Tie {
  kind: 'alike' | 'scene';
  x: number;
  width: number;
}

export interface Row {
  kind: 'row';
  day: number;
  top: number;
  /** Height of its pictures; the row ends `below` px farther down. */
  height: number;
  cells: Cell[];
  ties: Tie[];
}

export interface Heading {
  kind: 'heading';
  day: number;
  top: number;
}

export type Line = Row | Heading;

export const HEADING = 58;
const GAP = 14;
const CLOSE_GAP = 4;

const same = (column: readonly number[], one: number, other: number): boolean =>
  (column[one] ?? -1) >= 0 && column[one] === column[other];

/** Width over height of the upright picture. */
export const aspectOf = (shapes: Shapes, at: number): number =>
  (shapes.width_px[at] ?? 3) / (shapes.height_px[at] || 2);

/** White in px between two neighbours; pictures nearly alike stand close. */
function gapBetween(shapes: Shapes, one: number, other: number): number {
  return same(shapes.alike, one, other) ? CLOSE_GAP : GAP;
}

/** Lay out the pictures `shown` (places in the columns, in their order). */
export function layRows(shown: readonly number[], shapes: Shapes, measures: Measures): Line[] {
  const lines: Line[] = [];
  let top = 0;
  for (const pictures of divideByDay(shown, shapes)) {
    const day = shapes.day[pictures[0] ?? 0] ?? 0;
    lines.push({ kind: 'heading', day, top });
    top += HEADING;
    for (const part of divideIntoRows(pictures, shapes, measures)) {
      const row = fillRow(part.pictures, shapes, measures, part.last, day, top);
      lines.push(row);
      top += row.height + measures.below;
    }
  }
  return lines;
}

/** Height of all lines in px. */
export function measureLines(lines: readonly Line[], below: number): number {
  const last = lines.at(-1);
  return last ? last.top + heightOf(last, below) : 0;
}

export const heightOf = (line: Line, below: number): number =>
  line.kind === 'heading' ? HEADING : line.height + below;

function divideByDay(shown: readonly number[], shapes: Shapes): number[][] {
  const days: number[][] = [];
  let day: number | undefined;
  for (const at of shown) {
    if (days.length === 0 || shapes.day[at] !== day) days.push([]);
    day = shapes.day[at];
    days.at(-1)?.push(at);
  }
  return days;
}

function divideIntoRows(
  pictures: readonly number[],
  shapes: Shapes,
  measures: Measures,
): { pictures: number[]; last: boolean }[] {
  const rows: { pictures: number[]; last: boolean }[] = [];
  let row: number[] = [];
  for (const at of pictures) {
    const longer = [...row, at];
    const before = row.length ? fitHeight(row, shapes, measures.width) : Infinity;
    const after = fitHeight(longer, shapes, measures.width);
    // A row ends where its pictures come nearest to the height wanted, as a ratio.
    if (row.length && before * after < measures.height ** 2) {
      rows.push({ pictures: row, last: false });
      row = [at];
    } else {
      row = longer;
    }
  }
  if (row.length) rows.push({ pictures: row, last: true });
  return rows;
}

/** The height at which the pictures and the white between them fill the width. */
function fitHeight(pictures: readonly number[], shapes: Shapes, width: number): number {
  let aspects = 0;
  let gaps = 0;
  pictures.forEach((at, i) => {
    aspects += aspectOf(shapes, at);
    if (i) gaps += gapBetween(shapes, pictures[i - 1] ?? at, at);
  });
  return Math.max(width - gaps, 1) / aspects;
}

function fillRow(
  pictures: readonly number[],
  shapes: Shapes,
  measures: Measures,
  last: boolean,
  day: number,
  top: number,
): Row {
  const fit = fitHeight(pictures, shapes, measures.width);
  // The last row of a day is not blown up to the full width.
  const height = Math.floor(last ? Math.min(fit, measures.height) : fit);
  const cells: Cell[] = [];
  let x = 0;
  pictures.forEach((at, i) => {
    if (i) x += gapBetween(shapes, pictures[i - 1] ?? at, at);
    const width = aspectOf(shapes, at) * height;
    cells.push({ at, x, width });
    x += width;
  });
  return { kind: 'row', day, top, height, cells, ties: tieCells(cells, shapes) };
}

function tieCells(cells: readonly Cell[], shapes: Shapes): Tie[] {
  const ties: Tie[] = [];
  for (const kind of ['scene', 'alike'] as const) {
    let from = 0;
    for (let i = 1; i <= cells.length; i++) {
      const start = cells[from];
      const end = cells[i - 1];
      const next = cells[i];
      if (!start || !end || (next && same(shapes[kind], end.at, next.at))) continue;
      if (i - from > 1) ties.push({ kind, x: start.x, width: end.x + end.width - start.x });
      from = i;
    }
  }
  return ties;
}

/** Place of the line that y (px from the top of all) lies in; the last one that begins above it. */
export function findLine(lines: readonly Line[], y: number): number {
  let low = 0;
  let high = lines.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((lines[middle]?.top ?? 0) <= y) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Places of the first line that is seen from `top` to `bottom` px, and of the one after the last. */
export function findSeen(lines: readonly Line[], top: number, bottom: number): [number, number] {
  return lines.length ? [findLine(lines, top), findLine(lines, bottom) + 1] : [0, 0];
}

/** Where each picture lies: its line's place in the lines, by its place in the columns. */
export function indexRows(lines: readonly Line[]): Map<number, number> {
  const index = new Map<number, number>();
  lines.forEach((line, i) => {
    if (line.kind === 'row') for (const cell of line.cells) index.set(cell.at, i);
  });
  return index;
}

/** The picture in the row `by` rows farther down (or up) that lies nearest below (or above). */
export function stepRows(lines: readonly Line[], from: number, at: number, by: number): number {
  const rows = lines.flatMap((line, i) => (line.kind === 'row' ? [{ line, i }] : []));
  const own = rows.findIndex((row) => row.i === from);
  const target = rows[Math.min(Math.max(own + by, 0), rows.length - 1)]?.line;
  const cell = rows[own]?.line.cells.find((one) => one.at === at);
  if (!target || !cell) return at;
  const middle = cell.x + cell.width / 2;
  const apart = (one: Cell): number => Math.abs(one.x + one.width / 2 - middle);
  return target.cells.reduce((best, one) => (apart(one) < apart(best) ? one : best)).at;
}

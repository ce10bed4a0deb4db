/** Edges that a moved frame is drawn to: the grid's, its neighbours', and equal gaps. Pure; mm. */
import {
  bottom,
  facing,
  moveBox,
  resizeBox,
  right,
  scaleBox,
  stretchBox,
  type Box,
  type Handle,
} from './boxes';

export type Axis = 'x' | 'y';

/** A place that an edge may come to lie on. */
export interface Line {
  axis: Axis;
  at: number;
  /** How far the hairline reaches along the other axis. */
  from: number;
  to: number;
  /** "gap": an equal distance to neighbours; "baseline": so close together that it pulls less. */
  kind: 'edge' | 'gap' | 'baseline';
}

export interface Snapped {
  box: Box;
  guides: Line[];
}

interface Sides {
  axis: Axis;
  /** The moved edges and the middle, as distances from the box's start. */
  offsets: number[];
}

/** Lines of the baseline grid pull over this part of the usual way. */
const BASELINE_PULL = 0.3;

/** What the page gives to hold on to. */
export interface Grid {
  columns: readonly Box[];
  /** Trim boxes of the pages, in spread coordinates. */
  pages: readonly Box[];
  bleed: number;
  /** Lines of the baseline grid. */
  baselines: readonly number[];
  gap: number;
}

/** List every line that the frame `box` may be drawn to; `others` are the frames beside it. */
export function listLines(box: Box, others: readonly Box[], grid: Grid): Line[] {
  const lines: Line[] = [];
  const spread = surround(grid.pages);
  const upright = (at: number, area: Box, kind: Line['kind'] = 'edge'): void => {
    lines.push({ axis: 'x', at, from: area.y, to: bottom(area), kind });
  };
  const level = (at: number, area: Box, kind: Line['kind'] = 'edge'): void => {
    lines.push({ axis: 'y', at, from: area.x, to: right(area), kind });
  };
  for (const page of grid.pages) {
    for (const at of [page.x, right(page), page.x + page.width / 2]) upright(at, page);
    for (const at of [page.y, bottom(page)]) level(at, page);
  }
  if (grid.bleed > 0 && spread.width > 0) {
    for (const at of [spread.x - grid.bleed, right(spread) + grid.bleed]) upright(at, spread);
    for (const at of [spread.y - grid.bleed, bottom(spread) + grid.bleed]) level(at, spread);
  }
  for (const column of grid.columns) {
    for (const at of [column.x, right(column)]) upright(at, column);
    for (const at of [column.y, bottom(column)]) level(at, column);
  }
  for (const at of grid.baselines) level(at, spread, 'baseline');
  for (const other of others) {
    const area = surround([box, other]);
    for (const at of [other.x, right(other)]) upright(at, area);
    for (const at of [other.y, bottom(other)]) level(at, area);
  }
  return [...lines, ...listGaps(box, others, grid.gap)];
}

/** Places of equal gaps: the style's own beside a neighbour, the one two neighbours have, the middle. */
function listGaps(box: Box, others: readonly Box[], gap: number): Line[] {
  const lines: Line[] = [];
  for (const axis of ['x', 'y'] as const) {
    const size = axis === 'x' ? box.width : box.height;
    const row = others
      .filter((other) => facing(box, other, axis))
      .map((other) => ({ other, start: start(other, axis), end: end(other, axis) }))
      .sort((a, b) => a.start - b.start);
    const add = (at: number, area: Box): void => {
      const across = axis === 'x' ? [area.y, bottom(area)] : [area.x, right(area)];
      lines.push({ axis, at, from: across[0]!, to: across[1]!, kind: 'gap' });
    };
    for (const { other, start, end } of row) {
      add(end + gap, other);
      add(start - gap, other);
    }
    for (const [i, before] of row.entries()) {
      const after = row[i + 1];
      const between = after ? after.start - before.end : 0;
      if (!after || between <= 0) continue;
      add(after.end + between, after.other);
      add(before.start - between, before.other);
      if (between > size) add(before.end + (between - size) / 2, before.other);
    }
  }
  return lines;
}

/** Move `box` by mm; edges within `reach` of a line come to lie on it. */
export function snapMove(box: Box, x: number, y: number, lines: readonly Line[], reach: number) {
  const moved = moveBox(box, x, y);
  const pullX = findPull(
    moved,
    { axis: 'x', offsets: [0, box.width, box.width / 2] },
    lines,
    reach,
  );
  const pullY = findPull(moved, { axis: 'y', offsets: [0, box.height] }, lines, reach);
  return settle(moveBox(moved, pullX?.by ?? 0, pullY?.by ?? 0), lines);
}

/** Pull a handle by mm and keep the shape; the edge nearest to a line comes to lie on it. */
export function snapScale(
  box: Box,
  handle: Handle,
  x: number,
  y: number,
  lines: readonly Line[],
  reach: number,
): Snapped {
  const scaled = scaleBox(box, handle, x, y);
  const pulls = [
    handle.x ? findPull(scaled, movedSide('x', handle.x, scaled), lines, reach) : null,
    handle.y ? findPull(scaled, movedSide('y', handle.y, scaled), lines, reach) : null,
  ];
  const factors = pulls.map((pull, i) => {
    if (!pull) return null;
    const [size, side] = i ? [scaled.height, handle.y] : [scaled.width, handle.x];
    return { by: Math.abs(pull.by), factor: (size + side * pull.by) / size };
  });
  const best = factors
    .filter((one) => one !== null)
    .sort((a, b) => a.by - b.by)
    .at(0);
  return settle(best ? resizeBox(scaled, handle, best.factor) : scaled, lines);
}

/** Pull an upright edge by mm: a text's measure; it comes to lie on a line that is near. */
export function snapStretch(
  box: Box,
  handle: Handle,
  x: number,
  lines: readonly Line[],
  reach: number,
): Snapped {
  const pulled = stretchBox(box, handle, x, 0);
  const pull = handle.x ? findPull(pulled, movedSide('x', handle.x, pulled), lines, reach) : null;
  return settle(pull ? stretchBox(pulled, handle, pull.by, 0) : pulled, lines);
}

function movedSide(axis: Axis, side: number, box: Box): Sides {
  const size = axis === 'x' ? box.width : box.height;
  return { axis, offsets: [side > 0 ? size : 0] };
}

/** The shortest way that brings an edge onto a line, if one is near. Gaps yield to edges. */
function findPull(
  box: Box,
  { axis, offsets }: Sides,
  lines: readonly Line[],
  reach: number,
): { by: number } | null {
  let best: { by: number; rank: number } | null = null;
  const from = start(box, axis);
  for (const line of lines) {
    if (line.axis !== axis) continue;
    const near = line.kind === 'baseline' ? reach * BASELINE_PULL : reach;
    for (const [place, offset] of offsets.entries()) {
      // The middle of a frame looks for edges only.
      if (place === 2 && line.kind !== 'edge') continue;
      const by = line.at - from - offset;
      const rank = Math.abs(by) + (place === 2 ? reach / 2 : 0);
      if (Math.abs(by) <= near && (!best || rank < best.rank)) best = { by, rank };
    }
  }
  return best;
}

/** The box with the hairlines that it now lies on. */
function settle(box: Box, lines: readonly Line[]): Snapped {
  const on = (line: Line): boolean => {
    const from = start(box, line.axis);
    const size = end(box, line.axis) - from;
    return [0, size].some((offset) => Math.abs(from + offset - line.at) < 0.01);
  };
  const guides = new Map<string, Line>();
  for (const line of lines.filter(on)) {
    const key = `${line.axis} ${line.at.toFixed(2)}`;
    const known = guides.get(key);
    guides.set(key, {
      ...line,
      from: Math.min(line.from, known?.from ?? line.from),
      to: Math.max(line.to, known?.to ?? line.to),
    });
  }
  return { box, guides: [...guides.values()] };
}

/** The smallest box round all of them. */
export function surround(boxes: readonly Box[]): Box {
  if (boxes.length === 0) return { x: 0, y: 0, width: 0, height: 0 };
  const x = Math.min(...boxes.map((box) => box.x));
  const y = Math.min(...boxes.map((box) => box.y));
  return {
    x,
    y,
    width: Math.max(...boxes.map(right)) - x,
    height: Math.max(...boxes.map(bottom)) - y,
  };
}

const start = (box: Box, axis: Axis): number => (axis === 'x' ? box.x : box.y);
const end = (box: Box, axis: Axis): number => (axis === 'x' ? right(box) : bottom(box));

import { describe, expect, it } from 'vitest';
import {
  aspectOf,
  findLine,
  findSeen,
  HEADING,
  heightOf,
  indexRows,
  layRows,
  measureLines,
  stepRows,
  type Row,
  type Shapes,
} from './rows';

const MEASURES = { width: 1200, height: 150, below: 20 };

/** 5,000 pictures of three shapes over twelve days; every tenth begins a set of three. */
function inventShapes(count = 5000): Shapes {
  const numbers = [...Array(count).keys()];
  const shapes = [
    [6000, 4000],
    [4000, 6000],
    [9600, 4000],
  ] as const;
  const shape = (i: number) => shapes[(i * 7) % 10 < 6 ? 0 : i % 50 === 30 ? 2 : 1] ?? shapes[0];
  return {
    day: numbers.map((i) => Math.floor((i * 12) / count)),
    width_px: numbers.map((i) => shape(i)[0]),
    height_px: numbers.map((i) => shape(i)[1]),
    alike: numbers.map((i) => (i % 10 < 3 ? Math.floor(i / 10) : -1)),
    scene: numbers.map(() => -1),
  };
}

const shapes = inventShapes();
const all = shapes.day.map((_, i) => i);
const lines = layRows(all, shapes, MEASURES);
const rows = lines.filter((line): line is Row => line.kind === 'row');

describe('rows of pictures', () => {
  it('hold every picture once, in order', () => {
    expect(rows.flatMap((row) => row.cells.map((cell) => cell.at))).toEqual(all);
  });

  it('fill the width, but for the last of a day', () => {
    rows.forEach((row, i) => {
      const end = row.cells.at(-1);
      const width = (end?.x ?? 0) + (end?.width ?? 0);
      expect(width).toBeLessThanOrEqual(1200.01);
      const isLast = rows[i + 1]?.day !== row.day;
      if (!isLast) expect(width).toBeGreaterThan(1180);
    });
  });

  it('come near the height wanted, and change no picture its shape', () => {
    const full = rows.filter((row, i) => rows[i + 1]?.day === row.day);
    for (const row of full) {
      expect(row.height).toBeGreaterThan(100);
      expect(row.height).toBeLessThan(225);
    }
    for (const cell of rows[3]?.cells ?? []) {
      expect(cell.width / (rows[3]?.height ?? 1)).toBeCloseTo(aspectOf(shapes, cell.at), 6);
    }
  });

  it('lie one below the other without a gap', () => {
    lines.forEach((line, i) => {
      const next = lines[i + 1];
      if (next) expect(next.top).toBe(line.top + heightOf(line, 20));
    });
    expect(measureLines(lines, 20)).toBe((lines.at(-1)?.top ?? 0) + heightOf(lines.at(-1)!, 20));
    expect(measureLines([], 20)).toBe(0);
  });

  it('begin each day with its heading', () => {
    const headings = lines.filter((line) => line.kind === 'heading');
    expect(headings.map((line) => line.day)).toEqual([...Array(12).keys()]);
    expect(lines[0]).toEqual({ kind: 'heading', day: 0, top: 0 });
    expect(lines[1]?.top).toBe(HEADING);
  });

  it('are laid out in a moment', () => {
    const start = performance.now();
    layRows(all, shapes, MEASURES);
    expect(performance.now() - start).toBeLessThan(100);
  });

  it('stand pictures nearly alike close, and tie them', () => {
    const [row] = layRows([0, 1, 2, 3], shapes, MEASURES).filter((line) => line.kind === 'row');
    const [a, b, c, d] = row?.cells ?? [];
    expect((b?.x ?? 0) - (a?.x ?? 0) - (a?.width ?? 0)).toBeCloseTo(4);
    expect((d?.x ?? 0) - (c?.x ?? 0) - (c?.width ?? 0)).toBeCloseTo(14);
    expect(row?.ties).toEqual([{ kind: 'alike', x: 0, width: (c?.x ?? 0) + (c?.width ?? 0) }]);
  });

  it('show a picture wider than the window in a lower row', () => {
    const wide = { ...shapes, width_px: [20000], height_px: [1000], alike: [-1] };
    const [, row] = layRows([0], { ...wide, day: [0], scene: [-1] }, MEASURES);
    expect(row).toMatchObject({ kind: 'row', height: 60 });
  });
});

describe('finding lines', () => {
  it('finds what is seen', () => {
    const middle = lines[200]!;
    expect(findLine(lines, middle.top)).toBe(200);
    expect(findLine(lines, middle.top - 1)).toBe(199);
    expect(findLine(lines, -50)).toBe(0);
    expect(findLine(lines, 1e9)).toBe(lines.length - 1);
    const [from, to] = findSeen(lines, middle.top, middle.top + 800);
    expect(from).toBe(200);
    expect(lines[to]?.top).toBeGreaterThan(middle.top + 800);
    expect(findSeen([], 0, 100)).toEqual([0, 0]);
  });

  it('steps up and down to the nearest picture, and stays at the ends', () => {
    const index = indexRows(lines);
    const start = rows[10]!.cells[2]!;
    const down = stepRows(lines, index.get(start.at)!, start.at, 1);
    const below = rows[11]!.cells.find((cell) => cell.at === down)!;
    expect(below.x).toBeLessThan(start.x + start.width);
    expect(below.x + below.width).toBeGreaterThan(start.x);
    expect(stepRows(lines, index.get(0)!, 0, -1)).toBe(0);
    const last = all.length - 1;
    expect(index.get(stepRows(lines, index.get(last)!, last, 50))).toBe(index.get(last));
  });
});

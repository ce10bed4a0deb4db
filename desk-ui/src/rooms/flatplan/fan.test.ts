import { describe, expect, it } from 'vitest';
import { centreOf, conjugateOf, foldLeaf, foldSheet, gapAfter, sheetOf } from './fan';

const SIZES = [1, 2, 3, 4, 7];
const gather = (sheets: number, first = 9) => ({
  sheets,
  first_page: first,
  last_page: first + 4 * sheets - 1,
});

// Geometry of folding, as src/wayfold/plan/paper.py states it: sheet i of n carries the pages
// 4n-2i+2 | 2i-1 outside and 2i | 4n-2i+1 inside; any dummy shows it.
describe('the paper of a gathering', () => {
  it.each(SIZES)('of %d sheets pairs each page with the one beside it on the sheet', (n) => {
    const gathering = gather(n, 1);
    for (let i = 1; i <= n; i++) {
      for (const page of [4 * n - 2 * i + 2, 2 * i - 1, 2 * i, 4 * n - 2 * i + 1]) {
        expect(sheetOf(page, gathering)).toBe(i);
      }
      expect(conjugateOf(2 * i - 1, gathering)).toBe(4 * n - 2 * i + 2);
      expect(conjugateOf(2 * i, gathering)).toBe(4 * n - 2 * i + 1);
    }
  });

  it.each(SIZES)('of %d sheets has its centre on one side of the innermost', (n) => {
    const gathering = gather(n);
    const [left, right] = centreOf(gathering);
    expect(sheetOf(left, gathering)).toBe(n);
    expect(conjugateOf(left, gathering)).toBe(right);
    expect(gapAfter(left, gathering)).toBe(n);
  });

  it.each(SIZES)('of %d sheets nests them about one middle, the outermost deepest', (n) => {
    const depths = Array.from({ length: n }, (_, i) => foldSheet(i + 1, n));
    for (const line of depths) {
      const [left, middle, right] = line;
      expect((left?.[0] ?? 0) + (right?.[0] ?? 0)).toBe(2 * n);
      expect(middle?.[0]).toBe(n);
    }
    const at = depths.map((line) => line[1]?.[1] ?? 0);
    expect([...at].sort((a, b) => b - a)).toEqual(at);
  });

  it('wraps an interleaf between the sheets outside and inside it', () => {
    const gathering = gather(3);
    const leaf = { depth: 1, ends: [{ after_page: 10 }, { after_page: 18 }] };
    const line = foldLeaf(leaf, gathering);
    expect(line[0]?.[0]).toBe(gapAfter(10, gathering));
    expect(line[2]?.[0]).toBe(gapAfter(18, gathering));
    const deep = line[1]?.[1] ?? 0;
    expect(deep).toBeLessThan(foldSheet(1, 3)[1]?.[1] ?? 0);
    expect(deep).toBeGreaterThan(foldSheet(2, 3)[1]?.[1] ?? 0);
  });
});

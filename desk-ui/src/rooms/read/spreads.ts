/** Arithmetic of turning pages: pure, so that it can be tested without a browser. */
import type { Page, Spread } from './reading';

export interface Chapter {
  title: string;
  /** Number of the page it begins on. */
  page: number;
  /** Place of that page's spread in the book. */
  spread: number;
  /** The folio to show for it; empty where it has none. */
  label: string;
}

/** The nearest spread there is; -1 for a book without pages. */
export function clampSpread(index: number, count: number): number {
  return Math.min(Math.max(index, 0), count - 1);
}

/** The spread that shows page `number`, or the nearest one. */
export function findSpread(spreads: readonly Spread[], number: number): number {
  const index = spreads.findIndex((spread) => (spread.right ?? spread.left ?? 0) >= number);
  return index < 0 ? spreads.length - 1 : index;
}

/** What an address calls a spread: by its first page; where a leaf is turned, by the same one. */
export function namePlace(spread: Spread): string {
  return `page-${spread.left ?? spread.right ?? 1}`;
}

/** Chapters in reading order, each with where it begins. */
export function listChapters(pages: readonly Page[], spreads: readonly Spread[]): Chapter[] {
  const chapters: Chapter[] = [];
  for (const page of pages) {
    if (page.chapter && page.chapter !== chapters.at(-1)?.title) {
      chapters.push({
        title: page.chapter,
        page: page.number,
        spread: findSpread(spreads, page.number),
        label: page.label,
      });
    }
  }
  return chapters;
}

/** The chapter being read at a spread, or undefined before the first. */
export function findChapter(chapters: readonly Chapter[], spread: number): Chapter | undefined {
  return chapters.findLast((chapter) => chapter.spread <= spread);
}

/** Numbers of the pages of a spread, left to right. */
export function listPages(spread: Spread | undefined): number[] {
  return [spread?.left, spread?.right].filter((page) => page != null);
}

/** One side of the open book: a page, or what is seen of it through translucent leaves. */
export interface Half {
  side: 'verso' | 'recto';
  /** The page's number; null where a leaf lies over nothing. */
  number: number | null;
  /** Which of the pages seen through leaves is shown; null for the bare page. */
  veiled: number | null;
}

/** The sides of a spread, left to right; with the leaves lifted only what lies beneath them. */
export function listHalves(spread: Spread | undefined, lifted = false): Half[] {
  if (!spread) return [];
  const halves: Half[] = [
    { side: 'verso', number: spread.left, veiled: lifted ? null : spread.left_veiled },
    { side: 'recto', number: spread.right, veiled: lifted ? null : spread.right_veiled },
  ];
  return halves.filter((half) => half.number !== null || half.veiled !== null);
}

/** Whether a translucent leaf lies in the spread. */
export function hasLeaf(spread: Spread | undefined): boolean {
  return spread?.left_veiled != null || spread?.right_veiled != null;
}

/** Where the SVG of a side is found. */
export function findDrawing({ number, veiled }: Half): string {
  return veiled === null ? `pages/${number}.svg` : `veiled/${veiled}.svg`;
}

/** What a reader calls the spread: "pages 12 and 13", "page 1"; and where its leaf lies. */
export function nameSpread(spread: Spread | undefined): string {
  const numbers = listPages(spread);
  const pages =
    numbers.length === 2 ? `pages ${numbers.join(' and ')}` : `page ${numbers[0] ?? '–'}`;
  if (spread?.left_veiled != null && spread.right_veiled != null) return `${pages}, leaves on both`;
  if (spread?.right_veiled != null) return `${pages}, a leaf before the right one`;
  if (spread?.left_veiled != null) return `${pages}, the leaf turned`;
  return pages;
}

/** Thickness in px of the pages lying to the left and to the right of the fold. */
export function measureStacks(index: number, count: number, most: number): [number, number] {
  if (count < 2) return [0, 0];
  const read = index / (count - 1);
  return [Math.round(read * most), Math.round((1 - read) * most)];
}

/** Where a key leads; null when the key does not turn pages. */
export function followKey(key: string, shift: boolean, index: number, count: number) {
  switch (key) {
    case 'ArrowRight':
    case 'PageDown':
      return clampSpread(index + 1, count);
    case 'ArrowLeft':
    case 'PageUp':
      return clampSpread(index - 1, count);
    case ' ':
      return clampSpread(index + (shift ? -1 : 1), count);
    case 'Home':
      return clampSpread(0, count);
    case 'End':
      return clampSpread(count - 1, count);
    default:
      return null;
  }
}

export interface PlacedName {
  chapter: Chapter;
  /** Centre of its mark, as a share of the strip's length. */
  at: number;
  /** Whether there is room to write the name. */
  named: boolean;
}

/**
 * Where each chapter's mark stands along the strip, and which names fit: a name starts at its mark
 * and must end before the next name begins. The chapter being read comes first in the choice.
 */
export function placeNames(
  chapters: readonly Chapter[],
  count: number,
  widths: readonly number[],
  length: number,
  reading: Chapter | undefined,
): PlacedName[] {
  const placed = chapters.map((chapter) => ({
    chapter,
    at: count > 1 ? chapter.spread / (count - 1) : 0,
    named: false,
  }));
  const order = [...placed.keys()].sort(
    (a, b) => Number(chapters[b] === reading) - Number(chapters[a] === reading) || a - b,
  );
  const taken: [number, number][] = [];
  for (const i of order) {
    const width = widths[i] ?? 0;
    const start = Math.min((placed[i]?.at ?? 0) * length, length - width);
    if (taken.every(([from, to]) => start + width <= from || start >= to)) {
      taken.push([start, start + width]);
      placed[i]!.named = true;
    }
  }
  return placed;
}

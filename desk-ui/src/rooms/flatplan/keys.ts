/** Going from page to page by keys, as the pages lie on the screen. */
export interface PlacedPage {
  number: number;
  left: number;
  top: number;
}

/** Pages of one row differ by less than this (px) in height. */
const SAME_ROW_PX = 8;

/** The page a key leads to from page `from`; null where the key has no meaning here. */
export function stepTo(key: string, from: number, pages: readonly PlacedPage[]): number | null {
  const last = pages.length;
  switch (key) {
    case 'ArrowRight':
      return Math.min(from + 1, last);
    case 'ArrowLeft':
      return Math.max(from - 1, 1);
    case 'Home':
      return 1;
    case 'End':
      return last;
    case 'ArrowDown':
      return stepAcross(1, from, pages);
    case 'ArrowUp':
      return stepAcross(-1, from, pages);
    default:
      return null;
  }
}

/** The nearest page in the row below (1) or above (-1); the same page where there is none. */
function stepAcross(way: 1 | -1, from: number, pages: readonly PlacedPage[]): number {
  const here = pages.find((page) => page.number === from);
  if (!here) return from;
  const beyond = pages.filter((page) => way * (page.top - here.top) > SAME_ROW_PX);
  const nearest = Math.min(...beyond.map((page) => way * page.top));
  const row = beyond.filter((page) => way * page.top - nearest < SAME_ROW_PX);
  const off = (page: PlacedPage) => Math.abs(page.left - here.left);
  row.sort((a, b) => off(a) - off(b));
  return row[0]?.number ?? from;
}

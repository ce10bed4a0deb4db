/** Going from picture to picture in the order they are shown: pure. */

/** What going to a picture does to those taken together. */
export type Together = 'as before' | 'only this' | 'this too' | 'up to this';

/** The picture `by` places on; the first or the last beyond the ends. */
export function stepPlace(shown: readonly number[], current: number, by: number): number {
  const place = findPlace(shown, current) + by;
  return shown[Math.min(Math.max(place, 0), shown.length - 1)] ?? current;
}

/** Where a picture stands among those shown; where it would stand, if it is not among them. */
export function findPlace(shown: readonly number[], at: number): number {
  let low = 0;
  let high = shown.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((shown[middle] ?? 0) < at) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The first picture of the next day shown; back, of this day, and from there of the day before. */
export function stepDay(
  shown: readonly number[],
  days: readonly number[],
  current: number,
  by: 1 | -1,
): number {
  const day = days[current] ?? 0;
  if (by > 0) return shown.find((at) => (days[at] ?? 0) > day) ?? shown.at(-1) ?? current;
  const first = shown.find((at) => days[at] === day) ?? current;
  if (first !== current) return first;
  const before = shown.findLast((at) => (days[at] ?? 0) < day);
  return before === undefined ? first : (shown.find((at) => days[at] === days[before]) ?? first);
}

/** All pictures shown from one to another, in their order. */
export function listBetween(shown: readonly number[], one: number, other: number): number[] {
  const [from, to] = [Math.min(one, other), Math.max(one, other)];
  return shown.filter((at) => at >= from && at <= to);
}

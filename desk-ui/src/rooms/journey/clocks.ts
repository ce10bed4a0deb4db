/** The arithmetic of two rows of pictures along one time. Times are in s since 1970 UTC. */

/** A picture that is drawn: its index in its row, and where it stands, in px from the left. */
export interface Placed {
  index: number;
  x: number;
  /** Whether there is room to show it; the others are drawn as a stroke alone. */
  shown: boolean;
}

/** The part of time that is seen: its beginning, and how wide a second is. */
export interface Window {
  start: number;
  pxPerS: number;
  width: number;
}

export const CLOSEST = 4;
export const WIDEST = 1 / 240;
/** Pictures nearer to each other than this would hide one another. */
const APART_PX = 26;
const BESIDE_PX = 160;
const STEPS = [1, 5, 15, 30, 60, 300, 900, 1_800, 3_600, 7_200, 21_600, 43_200, 86_400];
const TICK_PX = 84;

export function xOf(at: number, window: Window): number {
  return (at - window.start) * window.pxPerS;
}

export function timeAt(x: number, window: Window): number {
  return window.start + x / window.pxPerS;
}

/** The pictures to draw of a row (ascending or not), each moved by `shift` seconds. */
export function placeRow(at: readonly number[], window: Window, shift = 0): Placed[] {
  const seen: { index: number; x: number }[] = [];
  at.forEach((time, index) => {
    const x = xOf(time + shift, window);
    if (x > -BESIDE_PX && x < window.width + BESIDE_PX) seen.push({ index, x });
  });
  seen.sort((one, other) => one.x - other.x);
  let last = -Infinity;
  return seen.map(({ index, x }) => {
    const shown = x - last >= APART_PX;
    if (shown) last = x;
    return { index, x, shown };
  });
}

/** Look closer or wider (`factor` > 1 is closer) without moving the time at `x`. */
export function zoom(window: Window, factor: number, x: number): Window {
  const pxPerS = Math.min(CLOSEST, Math.max(WIDEST, window.pxPerS * factor));
  return { ...window, pxPerS, start: timeAt(x, window) - x / pxPerS };
}

/** Bring a time to the middle. */
export function centre(window: Window, at: number): Window {
  return { ...window, start: at - window.width / 2 / window.pxPerS };
}

/** Minutes east of UTC where the party was: by the last of `zones` that had begun. */
export function offsetAt(zones: readonly (readonly number[])[], at: number): number {
  let east = zones[0]?.[1] ?? 0;
  for (const [since, minutes] of zones) {
    if (since !== undefined && minutes !== undefined && since <= at) east = minutes;
  }
  return east;
}

export interface Tick {
  at: number;
  x: number;
  /** Whether a local day begins here. */
  day: boolean;
}

/** The strokes of the time scale: at round local times, far enough from each other to be read. */
export function listTicks(window: Window, zones: readonly (readonly number[])[]): Tick[] {
  const step = STEPS.find((s) => s * window.pxPerS >= TICK_PX) ?? 86_400;
  const end = timeAt(window.width, window);
  const ticks: Tick[] = [];
  const eastS = offsetAt(zones, (window.start + end) / 2) * 60;
  for (
    let local = Math.ceil((window.start + eastS) / step) * step;
    local - eastS <= end;
    local += step
  ) {
    const at = local - eastS;
    ticks.push({ at, x: xOf(at, window), day: local % 86_400 === 0 });
  }
  return ticks;
}

/** The index of the picture nearest to a time, each moved by `shift`; -1 in an empty row. */
export function findNearest(at: readonly number[], time: number, shift = 0): number {
  let best = -1;
  at.forEach((one, index) => {
    const away = Math.abs(one + shift - time);
    if (best < 0 || away < Math.abs((at[best] ?? 0) + shift - time)) best = index;
  });
  return best;
}

/** The time about which two rows, each in order, come nearest to each other. */
export function findMeeting(mine: readonly number[], theirs: readonly number[]): number {
  let best = mine[0] ?? theirs[0] ?? 0;
  let away = Infinity;
  let next = 0;
  for (const at of mine) {
    while (next + 1 < theirs.length && (theirs[next + 1] ?? 0) <= at) next += 1;
    for (const other of theirs.slice(next, next + 2)) {
      if (Math.abs(other - at) < away) {
        away = Math.abs(other - at);
        best = (other + at) / 2;
      }
    }
  }
  return best;
}

/** Which of the pictures are shown: pure. */
import type { Facts, Pick } from './columns';

export type Kept = 'all' | 'taken' | 'left' | 'open' | 'hero' | 'alone' | 'soft';

export interface Filter {
  kept: Kept;
  /** Places in the lists of days, places and cameras; null for all. */
  day: number | null;
  place: number | null;
  camera: number | null;
}

export const SHOW_ALL: Filter = { kept: 'all', day: null, place: null, camera: null };

/** Edges twice as wide as a sharp camera file's: no more than half its pixels are worth anything. */
const SOFT = 50;

/** What is known of a picture's fate. */
export interface Fate {
  pick: (at: number) => Pick;
  taken: (at: number) => boolean;
}

/** Whether a picture is one of a kind. */
export function isKept(kept: Kept, at: number, facts: Facts, fate: Fate): boolean {
  switch (kept) {
    case 'all':
      return true;
    case 'taken':
      return fate.taken(at);
    case 'left':
      return !fate.taken(at);
    case 'open':
      return fate.pick(at) === 'open';
    case 'hero':
      return fate.pick(at) === 'hero';
    case 'alone':
      return (facts.alike[at] ?? -1) < 0 && (facts.scene[at] ?? -1) < 0;
    case 'soft': {
      const sharp = facts.sharp[at] ?? -1;
      return sharp >= 0 && sharp < SOFT;
    }
  }
}

/** Whether day, place and camera are those asked for. */
function isWithin(filter: Filter, at: number, facts: Facts): boolean {
  return (
    (filter.day === null || facts.day[at] === filter.day) &&
    (filter.place === null || facts.place[at] === filter.place) &&
    (filter.camera === null || facts.camera[at] === filter.camera)
  );
}

/** The pictures to show, in the order of the columns. */
export function listShown(filter: Filter, facts: Facts, fate: Fate): number[] {
  const shown: number[] = [];
  for (let at = 0; at < facts.id.length; at++) {
    if (isWithin(filter, at, facts) && isKept(filter.kept, at, facts, fate)) shown.push(at);
  }
  return shown;
}

/** How many pictures each kind would show. */
export function countKinds(
  kinds: readonly Kept[],
  filter: Filter,
  facts: Facts,
  fate: Fate,
): Record<string, number> {
  const counts: Record<string, number> = Object.fromEntries(kinds.map((kind) => [kind, 0]));
  for (let at = 0; at < facts.id.length; at++) {
    if (!isWithin(filter, at, facts)) continue;
    for (const kind of kinds) {
      if (isKept(kind, at, facts, fate)) counts[kind] = (counts[kind] ?? 0) + 1;
    }
  }
  return counts;
}

/** In what one picture is better than another, in words; only what is seen side by side counts. */
import { count, fill, texts } from '../../texts';
import type { Facts } from './columns';

const words = texts.pictures;
// The same thresholds as where the book ranks pictures nearly alike (docs/choosing.md).
const SHARPER = 1.15;
const CLEARER = 2;
const LONGER = 1.05;

const at = (column: readonly number[], place: number): number => column[place] ?? 0;

/** Whether two are nearly the same picture: of different things the sharper is not the better. */
export const areAlike = (facts: Facts, one: number, other: number): boolean =>
  (facts.alike[one] ?? -1) >= 0 && facts.alike[one] === facts.alike[other];

/** What speaks for `one` beside `other`, which is nearly the same picture. */
export function listBetter(facts: Facts, one: number, other: number): string[] {
  if (!areAlike(facts, one, other)) return [];
  const better: string[] = [];
  const faces = at(facts.faces, one) - at(facts.faces, other);
  if (faces > 0) better.push(count(words.moreFaces, faces));
  const [mine, its] = [sharpPixels(facts, one), sharpPixels(facts, other)];
  if (its > 0 && mine / its >= SHARPER) {
    better.push(fill(words.sharper, { share: Math.round((mine / its - 1) * 100) }));
  }
  const lost = at(facts.clipped, other) - at(facts.clipped, one);
  if (lost >= CLEARER) better.push(fill(words.lessLost, { share: lost }));
  const [long, short] = [longSide(facts, one), longSide(facts, other)];
  if (long / short >= LONGER) {
    better.push(fill(words.morePixels, { share: Math.round((long / short - 1) * 100) }));
  }
  return better;
}

const longSide = (facts: Facts, place: number): number =>
  Math.max(at(facts.width_px, place), at(facts.height_px, place), 1);

/** Sharpness as shares of the picture's own pixels: of one size the shares may be compared. */
const sharpPixels = (facts: Facts, place: number): number => Math.max(at(facts.sharp, place), 0);

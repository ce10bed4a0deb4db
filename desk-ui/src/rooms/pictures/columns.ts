/** The photographs as the server tells of them, in columns; a picture is its place in them. */
import type { components } from '../../api';

export type Facts = components['schemas']['Facts'];
export type Verdicts = components['schemas']['Verdicts'];
export type Pick = components['schemas']['Decision']['pick'];

const PICKS: Record<string, Pick> = { h: 'hero', t: 'take', l: 'leave', o: 'open' };

/** What the person said of a picture, as the server knows it. */
export const readPick = (verdicts: Verdicts, at: number): Pick =>
  PICKS[verdicts.picks[at] ?? 'o'] ?? 'open';

export type CopySize = 'small' | 'large' | 'full';

/** Where a copy of a picture is found; named by its content, so that it is fetched once. */
export const findCopy = (facts: Facts, at: number, size: CopySize): string =>
  `api/pictures/${facts.id[at]}/${size}.jpg?of=${facts.of[at]}`;

/** Where the eye goes first, in fractions of the picture. */
export const findEye = (facts: Facts, at: number): { x: number; y: number } => ({
  x: (facts.eye_x[at] ?? 50) / 100,
  y: (facts.eye_y[at] ?? 50) / 100,
});

/** The pictures that belong to one's set of nearly alike ones, itself included. */
export function listAlike(facts: Facts, at: number): number[] {
  const set = facts.alike[at] ?? -1;
  if (set < 0) return [at];
  return facts.alike.flatMap((number, other) => (number === set ? [other] : []));
}

/** What to compare a picture with: the one it stands for or against, else a like one, else the next. */
export function findRival(facts: Facts, verdicts: Verdicts, at: number): number | null {
  const named = [verdicts.runner_up[at] ?? -1, verdicts.instead[at] ?? -1].find((n) => n >= 0);
  if (named !== undefined) return named;
  const alike = listAlike(facts, at).find((other) => other !== at);
  if (alike !== undefined) return alike;
  if (at + 1 < facts.id.length) return at + 1;
  return at > 0 ? at - 1 : null;
}

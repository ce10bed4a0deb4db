/** What the findings offer to mend. Pure. */
import type { components } from '../api';

type Finding = components['schemas']['BookFinding'];

export interface Mend {
  where: string;
  source: string;
  old: string;
  new: string;
}

/** List each passage once, place by place: that of the first finding which names it. */
export function listMends(findings: readonly Finding[]): Mend[] {
  const seen = new Map<string, Mend>();
  for (const { where, mends } of findings) {
    for (const mend of mends) {
      const key = JSON.stringify([mend.source, mend.old]);
      if (!seen.has(key)) seen.set(key, { where, ...mend });
    }
  }
  const places = [...new Set([...seen.values()].map(({ where }) => where))];
  return places.flatMap((place) => [...seen.values()].filter(({ where }) => where === place));
}

/** What was tried on this machine, as the server tells it. */
import type { components } from '../../api';
import { ask } from '../../shell/server';

export type PartTried = components['schemas']['PartTried'];

export interface Group {
  name: string;
  parts: PartTried[];
}

export const tryEverything = (): Promise<PartTried[]> => ask<PartTried[]>('api/start/works-here');

/** The parts in their groups, both in the order in which they were tried. */
export function groupTried(tried: readonly PartTried[]): Group[] {
  const groups = new Map<string, PartTried[]>();
  for (const one of tried) groups.set(one.group, [...(groups.get(one.group) ?? []), one]);
  return [...groups].map(([name, parts]) => ({ name, parts }));
}

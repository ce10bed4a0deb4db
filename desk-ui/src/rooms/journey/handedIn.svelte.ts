/** Files that are handed in, one after the other, and what became of each. */
import type { components } from '../../api';
import { book } from '../../shell/book.svelte';
import { send, toProblem, type Problem } from '../../shell/server';
import { texts } from '../../texts';
import { room } from './journey.svelte';

type Brought = components['schemas']['Brought'];

export interface Outcome {
  number: number;
  name: string;
  state: 'going' | 'fresh' | 'known' | 'refused';
  problem: Problem | null;
}

/** Which kind of file a name says it is; null for one that is neither. */
export function readKind(name: string): 'track' | 'calendar' | null {
  const ending = /\.(gpx|ics)$/i.exec(name)?.[1]?.toLowerCase();
  return ending === 'gpx' ? 'track' : ending === 'ics' ? 'calendar' : null;
}

class HandedIn {
  outcomes = $state<Outcome[]>([]);
  /** Changes whenever something became of a file. */
  told = $state(0);

  /** Hand files in; those of before are not told any more. */
  async bring(files: readonly File[]): Promise<void> {
    const names = files.map((file) => file.name);
    this.outcomes = names.map((name, number) => ({ number, name, state: 'going', problem: null }));
    for (const [number, file] of files.entries()) await this.#bringOne(number, file);
    await Promise.all([book.look(), room.look()]);
  }

  async #bringOne(number: number, file: File): Promise<void> {
    const kind = readKind(file.name);
    const { neither, neitherRemedy } = texts.journey.files;
    let outcome: Pick<Outcome, 'state' | 'problem'>;
    if (kind === null) {
      outcome = {
        state: 'refused',
        problem: { what: neither, where: file.name, remedy: neitherRemedy },
      };
    } else {
      try {
        const address = `api/journey/files/${kind}?name=${encodeURIComponent(file.name.slice(-200))}`;
        const brought = await send<Brought>('PUT', address, file);
        outcome = { state: brought.fresh ? 'fresh' : 'known', problem: null };
      } catch (error) {
        outcome = { state: 'refused', problem: toProblem(error) };
      }
    }
    Object.assign(this.outcomes[number] ?? {}, outcome);
    this.told += 1;
  }
}

export const handedIn = new HandedIn();

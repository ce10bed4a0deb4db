/** What the room knows of case and bench, and how it is changed. */
import type { components } from '../../api';
import { book } from '../../shell/book.svelte';
import { ask, toProblem } from '../../shell/server';

type Schemas = components['schemas'];
export type Case = Schemas['Case'];
export type Measure = Schemas['CaseMeasure'];
export type Finding = Schemas['CaseFinding'];
export type PocketItem = Schemas['PocketItem'];
export type Cutting = Schemas['Cutting'];
export type Stock = Schemas['BenchStock'];
export type Shopping = Schemas['Shopping'];
export type Task = Schemas['BenchTask'];
export type Step = Schemas['BenchStep'];
export type Tick = Schemas['BenchTick'];
export type Paper = Schemas['File'];

export type Place = 'measures' | 'cutting' | 'shopping' | 'bench';
const PLACES: Place[] = ['measures', 'cutting', 'shopping', 'bench'];

/** The place in the room that an address names, and the task there: "bench.sewing". */
export function readPlace(place: string): { at: Place; task: string } {
  const [first = '', task = ''] = place.split('.');
  return { at: PLACES.find((name) => name === first) ?? 'measures', task };
}

class Bench {
  work = $state.raw<Case | null>(null);
  tasks = $state.raw<Task[]>([]);
  cutting = $state.raw<Cutting | null>(null);
  shopping = $state.raw<Shopping | null>(null);
  papers = $state.raw<Paper[]>([]);
  /** The changes of the book that what is known here takes in: drawings are fetched after it. */
  seen = $state('');
  #looks = 0;
  /** The measure that is looked at, by its key: what it moves lights up. */
  held = $state('');

  /** A number that is being written and not kept yet, and the case as it would be with it. */
  trial = $state.raw<{ key: string; value: number } | null>(null);
  tried = $state.raw<Case | null>(null);
  #trials = 0;

  readonly moved = $derived(new Set(this.find(this.held)?.moves));
  readonly done = $derived(this.tasks.reduce((sum, task) => sum + task.done, 0));
  readonly old = $derived(this.tasks.reduce((sum, task) => sum + task.old, 0));
  readonly total = $derived(this.tasks.reduce((sum, task) => sum + task.total, 0));

  find(key: string): Measure | undefined {
    return this.work?.measures.find((measure) => measure.key === key);
  }

  /** Look at everything that this place shows. */
  async look(at: Place): Promise<void> {
    const seen = book.changes;
    const number = (this.#looks += 1);
    const trials = this.#trials;
    try {
      const [work, tasks, cutting, shopping, papers] = await Promise.all([
        ask<Case>('api/case'),
        ask<Task[]>('api/case/work'),
        at === 'cutting' ? ask<Cutting>('api/case/cutting') : this.cutting,
        at === 'shopping' ? ask<Shopping>('api/case/shopping') : this.shopping,
        at === 'bench' ? ask<Paper[]>('api/sheets/files') : this.papers,
      ]);
      // An answer that comes late says how things were, not how they are.
      if (number !== this.#looks) return;
      // A number that was begun meanwhile goes on being tried.
      if (trials === this.#trials) void this.try('', null);
      Object.assign(this, { work, tasks, cutting, shopping, papers, seen });
    } catch (error) {
      book.problem = toProblem(error);
    }
  }

  /** See what a number would make of the case; null leaves it. */
  async try(key: string, value: number | null): Promise<void> {
    const number = (this.#trials += 1);
    if (value === null) {
      this.trial = this.tried = null;
      return;
    }
    try {
      const tried = await ask<Case>(`api/case/measures/${key}?value=${value}`);
      // Only the last that was written counts.
      if (number !== this.#trials) return;
      this.tried = tried;
      this.trial = { key, value };
    } catch (error) {
      book.problem = toProblem(error);
    }
  }

  async set(key: string, value: number | string | boolean | null): Promise<void> {
    await book.change(`api/case/measures/${key}`, { value }, 'PUT');
    if (book.problem) await this.try(key, null);
  }

  fillPocket(items: PocketItem[]): Promise<unknown> {
    return book.change('api/case/pocket', { items }, 'PUT');
  }

  keepStocks(stocks: Stock[]): Promise<unknown> {
    return book.change('api/case/stocks', { stocks }, 'PUT');
  }

  /** Ticks are no decisions: nothing else changes with them; every window is told of them. */
  async tick(tick: Tick, done: boolean, at: Place): Promise<void> {
    await book.change(`api/case/ticks/${tick.of}/${tick.item}`, { done }, 'PUT');
    await this.look(at);
  }
}

export const bench = new Bench();

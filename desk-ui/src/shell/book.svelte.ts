/** The open book as every room sees it: how it stands, and how it is changed. */
import { untrack } from 'svelte';
import type { components } from '../api';
import { ask, send, toProblem, type Desk, type Problem } from './server';

export type BookState = components['schemas']['OpenBook'];
export type Work = components['schemas']['WorkUnderWay'];

class OpenBook {
  /** How the book stands; null while none is open. */
  state = $state.raw<BookState | null>(null);
  /** The work of opening a book. */
  works = $state.raw<Work[]>([]);
  /** Files in two versions, of the open book or of one that could not be opened. */
  copies = $state(0);
  /** Whether the desk has answered yet. */
  known = $state(false);
  /** Changes that are on their way to the disk. */
  saving = $state(0);
  /** What was refused last, until the person has seen it. */
  problem = $state.raw<Problem | null>(null);

  /** How often something was ticked off at the bench, in whichever window: no change of the book. */
  ticks = $state(0);

  /** How many hold words that are written and not kept. */
  #unkept = $state(0);
  /** What tells of such words where nothing else holds them any more. */
  #told = $state.raw<Problem | null>(null);

  #events: EventSource | null = null;
  /** Grows with every look, so that of two under way the last one counts. */
  #looks = 0;
  /** Grows with every answer to a change: a look begun before it may tell of the time before. */
  #answers = 0;
  /** How the book stood at the last news that came while a change was on its way. */
  #news: string | null = null;

  /** Changes whenever a page may look different: rooms fetch anew when it does. */
  get revision(): string {
    return this.state?.revision ?? '';
  }

  /** Changes with every change, also with those that move nothing on any page, as of the case. */
  get changes(): string {
    return `${this.revision}/${this.state?.changes ?? 0}`;
  }

  /** Whether words are written somewhere that are not kept, as long as they can be seen. */
  get lacks(): boolean {
    return this.#unkept > 0 || (this.problem !== null && this.problem === this.#told);
  }

  /** While a component is there: `holds` says whether it holds words that are not kept. */
  countUnkept(holds: () => boolean): void {
    const now = $derived(holds());
    $effect(() => {
      if (!now) return;
      untrack(() => (this.#unkept += 1));
      return () => (this.#unkept -= 1);
    });
  }

  /** Tell words that were refused when what they were written on was gone. */
  tellUnkept(problem: Problem): void {
    this.problem = this.#told = problem;
  }

  /** See what lies on the desk, and hear from now on what happens to it. */
  async open(): Promise<void> {
    await this.look();
    this.#events ??= this.#watch();
  }

  async look(): Promise<void> {
    const look = (this.#looks += 1);
    const answers = this.#answers;
    try {
      const desk = await ask<Desk>('api/desk');
      if (look !== this.#looks) return;
      if (answers !== this.#answers) return await this.look();
      this.#take(desk);
    } catch (error) {
      this.problem = toProblem(error);
    }
    this.known = true;
  }

  #take(desk: Desk): void {
    this.state = desk.book;
    this.works = desk.works;
    this.copies = desk.copies;
  }

  /** Change the book: send `body`, and give the answer; null where it was refused, and told. */
  async change<T>(address: string, body: unknown = null, method = 'POST'): Promise<T | null> {
    try {
      return await this.attempt<T>(address, body, method);
    } catch (error) {
      this.problem = toProblem(error);
      return null;
    }
  }

  /** Change the book as `change` does; what is refused is thrown. */
  async attempt<T>(address: string, body: unknown = null, method = 'POST'): Promise<T> {
    this.saving += 1;
    try {
      return await send<T>(method, address, body, (desk) => {
        this.#answers += 1;
        this.#take(desk);
      });
    } finally {
      this.saving -= 1;
      if (this.saving === 0 && this.#news !== null) this.#hear(this.#news);
    }
  }

  undo = (): Promise<unknown> => this.change('api/undo');
  redo = (): Promise<unknown> => this.change('api/redo');
  stop = (work: Work): Promise<unknown> => this.change(`api/works/${work.number}/stop`);

  putAway = (): Promise<unknown> => this.change('api/start/close');

  /** The book changed, and stands as `news` marks it; of our own changes their answers tell. */
  #hear(news: string): void {
    this.#news = this.saving > 0 ? news : null;
    if (this.saving === 0 && (news !== this.changes || this.state?.trouble)) void this.look();
  }

  #watch(): EventSource {
    const events = new EventSource('api/events');
    events.addEventListener('changed', ({ data }: MessageEvent<string>) => this.#hear(data));
    for (const kind of ['work', 'trouble']) {
      events.addEventListener(kind, () => void this.look());
    }
    events.addEventListener('ticked', () => (this.ticks += 1));
    // Told again whenever the line is there anew: something may have happened meanwhile.
    events.addEventListener('open', () => void this.look());
    return events;
  }
}

export const book = new OpenBook();

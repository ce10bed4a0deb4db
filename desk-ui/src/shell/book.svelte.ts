/** The open book as every room sees it: how it stands, and how it is changed. */
import type { components } from '../api';
import { ask, send, toProblem, type Problem } from './server';

export type Desk = components['schemas']['Desk'];
export type BookState = components['schemas']['OpenBook'];
export type Work = components['schemas']['WorkUnderWay'];

class OpenBook {
  /** How the book stands; null while none is open. */
  state = $state.raw<BookState | null>(null);
  /** The work of opening a book. */
  works = $state.raw<Work[]>([]);
  /** Whether the desk has answered yet. */
  known = $state(false);
  /** Changes that are on their way to the disk. */
  saving = $state(0);
  /** What was refused last, until the person has seen it. */
  problem = $state.raw<Problem | null>(null);

  /** How often something was ticked off at the bench, in whichever window: no change of the book. */
  ticks = $state(0);

  #events: EventSource | null = null;

  /** Changes whenever a page may look different: rooms fetch anew when it does. */
  get revision(): string {
    return this.state?.revision ?? '';
  }

  /** Changes with every change, also with those that move nothing on any page, as of the case. */
  get changes(): string {
    return `${this.revision}/${this.state?.changes ?? 0}`;
  }

  /** See what lies on the desk, and hear from now on what happens to it. */
  async open(): Promise<void> {
    await this.look();
    this.#events ??= this.#watch();
  }

  async look(): Promise<void> {
    try {
      const desk = await ask<Desk>('api/desk');
      this.state = desk.book;
      this.works = desk.works;
    } catch (error) {
      this.problem = toProblem(error);
    }
    this.known = true;
  }

  /** Change the book: send `body`, and give the answer; null where it was refused, and told. */
  async change<T>(address: string, body: unknown = null, method = 'POST'): Promise<T | null> {
    this.saving += 1;
    try {
      const answer = await send<T>(method, address, body);
      await this.look();
      return answer;
    } catch (error) {
      this.problem = toProblem(error);
      return null;
    } finally {
      this.saving -= 1;
    }
  }

  undo = (): Promise<unknown> => this.change('api/undo');
  redo = (): Promise<unknown> => this.change('api/redo');
  stop = (work: Work): Promise<unknown> => this.change(`api/works/${work.number}/stop`);

  putAway = (): Promise<unknown> => this.change('api/start/close');

  #watch(): EventSource {
    const events = new EventSource('api/events');
    for (const kind of ['changed', 'work', 'trouble']) {
      events.addEventListener(kind, () => void this.look());
    }
    events.addEventListener('ticked', () => (this.ticks += 1));
    // Told again whenever the line is there anew: something may have happened meanwhile.
    events.addEventListener('open', () => void this.look());
    return events;
  }
}

export const book = new OpenBook();

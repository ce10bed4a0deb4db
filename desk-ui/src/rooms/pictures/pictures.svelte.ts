/** The pictures as they stand: what the server told, and what was decided since. */
import { SvelteMap } from 'svelte/reactivity';
import { book } from '../../shell/book.svelte';
import { ask, send, toProblem } from '../../shell/server';
import { readPick, type Facts, type Pick, type Verdicts } from './columns';
import type { Fate } from './filters';

export class Pictures implements Fate {
  facts = $state.raw<Facts | null>(null);
  verdicts = $state.raw<Verdicts | null>(null);

  /** What was decided and is not in the verdicts yet, by place. */
  #said = new SvelteMap<number, Pick>();
  /** Decisions that wait for those on their way: they go together, so no key ever waits. */
  #waiting = new Map<number, Pick>();
  #sending = false;
  #asked = 0;
  #told = 0;

  /** Fetch what has changed; an answer that a later one has overtaken is let go. */
  async look(): Promise<void> {
    const number = ++this.#asked;
    try {
      const [facts, verdicts] = await Promise.all([
        this.facts ?? ask<Facts>('api/pictures'),
        ask<Verdicts>('api/pictures/verdicts'),
      ]);
      await this.#take(number, verdicts, facts);
    } catch (error) {
      book.problem = toProblem(error);
    }
  }

  async #take(number: number, verdicts: Verdicts, facts = this.facts): Promise<void> {
    const fitting = facts?.key === verdicts.facts ? facts : await ask<Facts>('api/pictures');
    if (number < this.#told) return;
    if (fitting.key !== verdicts.facts) return this.look();
    this.#told = number;
    this.facts = fitting;
    this.verdicts = verdicts;
  }

  pick = (at: number): Pick =>
    this.#said.get(at) ?? (this.verdicts ? readPick(this.verdicts, at) : 'open');

  taken = (at: number): boolean => {
    const said = this.#said.get(at);
    if (said && said !== 'open') return said !== 'leave';
    return this.verdicts?.taken[at] === '1';
  };

  /** Why a picture is taken or left; empty while that is being found out. */
  reason = (at: number): string =>
    this.#said.has(at) ? '' : (this.verdicts?.reasons[this.verdicts.reason[at] ?? 0] ?? '');

  /** Say the same of several pictures: one change of the book. */
  decide(pictures: readonly number[], pick: Pick): void {
    this.decideAll(pictures.map((at) => [at, pick]));
  }

  decideAll(decisions: readonly (readonly [number, Pick])[]): void {
    for (const [at, pick] of decisions) {
      if (this.pick(at) === pick) continue;
      this.#said.set(at, pick);
      this.#waiting.set(at, pick);
    }
    void this.#send();
  }

  async #send(): Promise<void> {
    const facts = this.facts;
    if (this.#sending || !this.#waiting.size || !facts) return;
    this.#sending = true;
    const batch = [...this.#waiting];
    this.#waiting.clear();
    const picks = batch.map(([at, pick]) => ({ photo: facts.id[at], pick }));
    const number = ++this.#asked;
    const verdicts = await book.change<Verdicts>('api/pictures/picks', { picks }, 'PUT');
    if (verdicts) await this.#take(number, verdicts);
    // Where it was refused, the pictures are again what the book says of them.
    for (const [at] of batch) if (!this.#waiting.has(at)) this.#said.delete(at);
    this.#sending = false;
    void this.#send();
  }
}

const NEAR = 240;
const AT_ONCE = 100;
const PAUSE_MS = 250;
const REST_MS = 3000;

/** Has small copies made before they are scrolled to: those near first, then by and by all. */
export class Ahead {
  #wished = new Set<string>();
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** The pictures in their order, and the place among them that is looked at now. */
  look(facts: Facts, shown: readonly number[], place: number): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.#wish(facts, shown, place, NEAR), PAUSE_MS);
  }

  stop(): void {
    clearTimeout(this.#timer);
  }

  async #wish(facts: Facts, shown: readonly number[], place: number, most: number): Promise<void> {
    const photos: string[] = [];
    for (const at of spreadFrom(place, shown)) {
      const id = facts.id[at];
      if (id && !this.#wished.has(id)) photos.push(id);
      if (photos.length === most) break;
    }
    if (!photos.length) return;
    for (const id of photos) this.#wished.add(id);
    // A wish that is not heard costs nothing but time.
    await send('POST', 'api/pictures/ahead', { photos }).catch(() => undefined);
    this.#timer = setTimeout(() => void this.#wish(facts, shown, place, AT_ONCE), REST_MS);
  }
}

/** The pictures from a place on: three ahead for each one behind. */
function* spreadFrom(place: number, shown: readonly number[]): Generator<number> {
  let [ahead, behind] = [place, place - 1];
  while (ahead < shown.length || behind >= 0) {
    for (let i = 0; i < 3 && ahead < shown.length; i++) yield shown[ahead++] ?? 0;
    if (behind >= 0) yield shown[behind--] ?? 0;
  }
}

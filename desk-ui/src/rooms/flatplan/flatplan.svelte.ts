/** The flatplan as the room has it: the pages, what is chosen, and what lights up with it. */
import type { components } from '../../api';
import { book } from '../../shell/book.svelte';
import { ask, send, toProblem, type Problem } from '../../shell/server';
import { centreOf, conjugateOf, sheetOf } from './fan';

export type Flatplan = components['schemas']['Flatplan'];
export type FlatPage = components['schemas']['FlatPage'];
export type FlatBlock = components['schemas']['FlatBlock'];
export type FlatPhoto = components['schemas']['FlatPhoto'];
export type FlatGathering = components['schemas']['FlatGathering'];
export type FlatLeaf = components['schemas']['FlatLeaf'];
export type Judged = components['schemas']['Judged'];
export type Asked = components['schemas']['AskedTrial'];
export type Why = components['schemas']['Why'];
export type Tried = components['schemas']['Tried'];
type Begun = components['schemas']['Begun'];
export type TriedPage = components['schemas']['TriedPage'];

/** What belongs together with a page. */
export interface Lit {
  page: number;
  gathering: number;
  /** The sheet that carries it; 1 is the outermost. */
  sheet: number;
  conjugate: number;
  centre: readonly [number, number];
  /** The interleaves that come out beside it. */
  leaves: readonly FlatLeaf[];
}

class Room {
  view = $state.raw<Flatplan | null>(null);
  judged = $state.raw<Judged | null>(null);
  problem = $state.raw<Problem | null>(null);
  /** What is being tried, and what it is called. */
  trial = $state.raw<Tried | null>(null);
  title = $state('');
  trying = $state(false);
  /** The trial that is being planned, and the work that does it. */
  pending = $state.raw<Begun | null>(null);
  /** The block that was taken up, and the page it is carried over. */
  carried = $state.raw<{ block: FlatBlock; to: number } | null>(null);
  /** The page that is chosen: what is said below is said of it. */
  chosen = $state(1);
  /** The page that the pointer is over. */
  pointed = $state<number | null>(null);

  readonly blocks = $derived(new Map(this.view?.blocks.map((block) => [block.id, block])));
  readonly lit = $derived(this.view ? lightUp(this.view, this.pointed ?? this.chosen) : null);
  readonly block = $derived(this.blockAt(this.chosen));

  #folder = '';
  /** Grows with every wish; only the last one's answer counts. */
  #turn = 0;
  /** Whether what was asked for is had without a second question where nothing moves. */
  #atOnce = false;

  pageAt(number: number): FlatPage | undefined {
    return this.view?.pages[number - 1];
  }

  blockAt(number: number): FlatBlock | undefined {
    return this.blocks.get(this.pageAt(number)?.block ?? '');
  }

  /** Come into the room; nothing is left of another book, or of what was tried before. */
  enter(folder: string): void {
    this.leave();
    this.carried = null;
    if (folder === this.#folder) return;
    this.#folder = folder;
    this.view = null;
    this.judged = null;
    this.chosen = 1;
  }

  /** Choose a page; one that the book has not becomes the nearest it has. */
  choose(number: number): void {
    const last = this.view?.pages.length ?? 1;
    this.chosen = Math.min(Math.max(number, 1), last);
  }

  async look(): Promise<void> {
    try {
      this.view = await ask<Flatplan>('api/flatplan');
      this.problem = null;
      this.choose(this.chosen);
    } catch (error) {
      this.problem = toProblem(error);
      return;
    }
    void this.#judge();
  }

  /** How good the plan is takes longer to say than where everything lies. */
  async #judge(): Promise<void> {
    try {
      this.judged = await ask<Judged>('api/flatplan/judged');
    } catch (error) {
      book.problem = toProblem(error);
    }
  }

  /** Try a wish out; one that moves nothing is had at once. */
  async ask(name: Asked['name'], what: string, title: string, page: number | null = null) {
    this.title = title;
    const asked: Asked = { name, what, page };
    this.#atOnce = MOVES_NOTHING.includes(name);
    await this.#begin(() => send<Begun>('POST', 'api/flatplan/trials', asked));
  }

  /** What was being planned is there: look at it, or have it where nothing moves by it. */
  async arrive(): Promise<void> {
    const begun = this.pending;
    const turn = this.#turn;
    if (!begun) return;
    this.pending = null;
    await this.#watch(async () => {
      const trial = await ask<Tried>(`api/flatplan/trials/${begun.number}`);
      return () => (this.trial = trial);
    });
    if (turn !== this.#turn) return;
    this.trying = false;
    if (this.#atOnce && this.trial?.still && this.trial.met) await this.make();
  }

  /** Try it by one of its ways out. */
  async take(way: number): Promise<void> {
    const number = this.trial?.number;
    if (number === undefined) return;
    this.#atOnce = false;
    await this.#begin(() => send<Begun>('POST', `api/flatplan/trials/${number}/ways/${way}`, null));
  }

  /** See whether what is tried has been drawn meanwhile. */
  async lookAgain(): Promise<void> {
    const number = this.trial?.number;
    if (number === undefined) return;
    const trial = await ask<Tried>(`api/flatplan/trials/${number}`).catch(() => null);
    if (trial && this.trial?.number === number) this.trial = trial;
  }

  /** Make the change that was tried. */
  async make(): Promise<void> {
    const number = this.trial?.number;
    if (number === undefined) return;
    const view = await book.change<Flatplan>(`api/flatplan/trials/${number}/make`);
    if (!view) return;
    this.leave();
    this.view = view;
    void this.#judge();
  }

  /** Leave what is tried; an answer still on its way is let go by. */
  leave(): void {
    const begun = this.pending;
    this.#turn += 1;
    this.trial = null;
    this.trying = false;
    this.pending = null;
    // What nobody waits for any more is planned no further; where it has ended, nothing is lost.
    if (begun) void send('POST', `api/flatplan/trials/${begun.number}/leave`, null).catch(() => {});
  }

  /** Have something tried, and wait until the work that plans it has ended. */
  async #begin(reach: () => Promise<Begun>): Promise<void> {
    const turn = (this.#turn += 1);
    this.trying = true;
    await this.#watch(async () => {
      const begun = await reach();
      return () => (this.pending = begun);
    });
    if (turn === this.#turn && !this.pending) this.trying = false;
  }

  /** Take an answer where nothing else was asked for meanwhile. */
  async #watch(reach: () => Promise<() => unknown>): Promise<void> {
    const turn = this.#turn;
    try {
      const take = await reach();
      if (turn === this.#turn) take();
    } catch (error) {
      if (turn === this.#turn) book.problem = toProblem(error);
    }
  }
}

/** What is done without a second question where no page moves by it. */
const MOVES_NOTHING: readonly Asked['name'][] = ['hold', 'hold centre', 'let go', 'plan'];

export const room = new Room();

/** The address of a small picture of a page. */
export function pictureOf(key: string): string {
  return `api/flatplan/pictures/${key}.jpg`;
}

export function lightUp(view: Flatplan, page: number): Lit | null {
  const gathering = view.gatherings.find((g) => g.first_page <= page && page <= g.last_page);
  if (!gathering) return null;
  const beside = (leaf: FlatLeaf) =>
    leaf.ends.some((end) => end.after_page === page || end.after_page + 1 === page);
  return {
    page,
    gathering: gathering.number,
    sheet: sheetOf(page, gathering),
    conjugate: conjugateOf(page, gathering),
    centre: centreOf(gathering),
    leaves: view.leaves.filter(beside),
  };
}

/** The spread that lies open: what is on it, what is chosen, and what is being done to it. */
import { tick, untrack } from 'svelte';
import { book } from '../../shell/book.svelte';
import { toProblem, type Problem } from '../../shell/server';
import { sameBox, type Box } from './boxes';
import { isWhole, roundCrop, WHOLE } from './cropping';
import { listPieces, renameFor, takeGrid, tellPlace, tellText, type Piece } from './pieces';
import type { Line } from './snapping';
import { fetchOthers, fetchPages, fetchSpread, fetchWays } from './wire';
import type { OtherPicture, SpreadView, Ways } from './wire';

/** A picture or a text in the hand: where it is now, and where it lay when it was taken up. */
export interface Held {
  piece: Piece;
  box: Box;
  crop: Box;
  /** Sent to the server; shown until the pages are drawn anew. */
  laid: boolean;
}

export type Doing = 'lay' | 'crop' | 'swap' | 'write' | 'ways';

/** Steps by keys are sent together when none has come for this long. */
const PAUSE_MS = 450;

export class OpenedSpread {
  view = $state.raw<SpreadView | null>(null);
  problem = $state.raw<Problem | null>(null);
  /** The page that was asked for. */
  page = $state(1);
  chosenId = $state<string | null>(null);
  doing = $state<Doing>('lay');
  held = $state.raw<Held | null>(null);
  guides = $state.raw<Line[]>([]);
  /** The picture that one in the hand would change places with. */
  target = $state<string | null>(null);
  /** Pictures that the chosen one may change places with, once they are known. */
  others = $state.raw<OtherPicture[] | null>(null);
  ways = $state.raw<Ways | null>(null);
  /** Which of the ways is looked at; 0 is the one they lie in now. */
  way = $state(0);

  readonly pieces = $derived(this.view ? listPieces(this.view) : []);
  readonly grid = $derived(this.view ? takeGrid(this.view) : null);
  readonly chosen = $derived(this.pieces.find(({ id }) => id === this.chosenId) ?? null);
  /** First page of the spread before, and of the one after; null at the covers. */
  readonly before = $derived.by(() => {
    const first = this.view?.pages[0]?.number ?? 1;
    return first > 1 ? first - 1 : null;
  });
  readonly after = $derived.by(() => {
    const last = this.view?.pages.at(-1)?.number ?? 0;
    return this.view && last < this.view.page_count ? last + 1 : null;
  });
  readonly pictures = $derived(this.pieces.filter(({ picture }) => picture !== null));

  #busy = 0;
  #sending: Promise<unknown> = Promise.resolve();
  #pause = 0;
  #drawn = new Map<number, string>();
  /** Grows with every view that is fetched; one that comes after a later one is let go by. */
  #turn = 0;
  #taken = 0;
  /** The book's revision when the ways were asked for. */
  #waysOf = '';

  /** Show the spread with `page`. */
  async open(page: number): Promise<void> {
    this.flush();
    const isSame = this.view?.pages.some(({ number }) => number === page) ?? false;
    this.page = page;
    if (!isSame) this.putDown();
    await this.look();
  }

  /** Fetch the spread as it is now. */
  async look(): Promise<void> {
    const page = this.page;
    const turn = (this.#turn += 1);
    try {
      const view = await fetchSpread(page);
      await fetchPages(view);
      if (page === this.page && turn > this.#taken) this.#take(view, turn);
    } catch (error) {
      if (page === this.page) this.problem = toProblem(error);
    }
  }

  /** The book changed, here or elsewhere: look again, unless the answer to a change brings it. */
  follow(revision: string): void {
    if (this.#busy === 0 && this.view && revision !== this.view.revision) void this.look();
  }

  #take(view: SpreadView, turn: number): void {
    this.#taken = turn;
    this.view = view;
    this.problem = null;
    // Ways asked for before the pages changed are looked for anew.
    if (this.doing === 'ways' && this.#waysOf !== view.revision) void this.openWays();
    this.#settle();
  }

  /** Change the book by one of the room's routes; the answer is the spread after it. */
  async change(what: string, body: Record<string, unknown>): Promise<boolean> {
    const view = await this.send(() =>
      book.change<SpreadView>(`api/spread/${what}`, { page: this.page, ...body }),
    );
    return view !== null;
  }

  /** Send a change after those that are under way, and show the spread that it gives. */
  async send(change: () => Promise<SpreadView | null>): Promise<SpreadView | null> {
    this.#busy += 1;
    const sent = this.#sending.then(change).catch((error: unknown) => {
      book.problem = toProblem(error);
      return null;
    });
    this.#sending = sent;
    const view = await sent;
    const turn = (this.#turn += 1);
    // What can be taken hold of lies where the page shows it: both change at once.
    if (view) await fetchPages(view);
    this.#busy -= 1;
    if (view?.pages.some(({ number }) => number === this.page)) {
      if (turn > this.#taken) this.#take(view, turn);
    } else if (this.#busy === 0) await this.look();
    return view;
  }

  choose(id: string | null): void {
    if (id === this.chosenId) return;
    this.flush();
    if (this.doing === 'crop') void this.keepCrop();
    if (this.doing !== 'ways') this.doing = 'lay';
    this.chosenId = id;
  }

  /** Go to a piece: choose it, and have the keys go to it. */
  show(piece: Piece): void {
    this.choose(piece.id);
    this.focus(piece);
  }

  /** Have the keys go to a piece, once it can take them. */
  focus(piece: Piece): void {
    void tick().then(() => {
      document.querySelector<HTMLElement>(`[data-piece="${CSS.escape(piece.id)}"]`)?.focus();
    });
  }

  /** Write the texts of a piece, in its place. */
  write(piece: Piece): void {
    this.choose(piece.id);
    this.doing = 'write';
  }

  /** Let go of all that is chosen or under way, keeping nothing that was not sent. */
  putDown(): void {
    this.chosenId = null;
    this.doing = 'lay';
    this.held = null;
    this.guides = [];
    this.ways = null;
  }

  // Moving and resizing.

  /** Take a picture or a text up; what it was when it was last laid down, and not yet drawn, counts. */
  takeUp(piece: Piece): Held | null {
    if (!piece.movable) return null;
    this.#stopPause();
    const before = this.held?.piece.id === piece.id ? this.held : null;
    const crop = before?.crop ?? piece.picture?.crop ?? WHOLE;
    this.held = { piece: before?.piece ?? piece, box: before?.box ?? piece.box, crop, laid: false };
    return this.held;
  }

  /** Show the picture in the hand elsewhere. */
  carry(box: Box, guides: Line[] = [], crop?: Box): void {
    if (!this.held) return;
    this.held = { ...this.held, box, crop: crop ?? this.held.crop };
    this.guides = guides;
  }

  /** Put everything back where it lay. */
  letBack(): void {
    this.#stopPause();
    this.held = null;
    this.guides = [];
  }

  /** Lay down what is in the hand when no further step comes. */
  layDownSoon(): void {
    this.#stopPause();
    this.#pause = window.setTimeout(() => void this.layDown(), PAUSE_MS);
  }

  /** Lay down at once what waits for further steps. */
  flush(): void {
    if (this.#pause) void this.layDown();
  }

  async layDown(): Promise<void> {
    this.#stopPause();
    this.guides = [];
    const held = this.held;
    const view = this.view;
    if (!held || !view || held.laid) return;
    const now = this.pieces.find(({ id }) => id === held.piece.id) ?? held.piece;
    const crop = now.picture?.crop ?? held.crop;
    if (sameBox(now.box, held.box) && sameBox(crop, held.crop, 1e-5)) {
      this.held = null;
      return;
    }
    this.held = { ...held, laid: true };
    if (!now.picture) return this.#setText(view, now, held.box);
    const place = tellPlace(view, now, held.box, held.crop);
    const done = await this.change('place', { block: now.block, frames: [place] });
    if (!done) this.held = null;
  }

  async #setText(view: SpreadView, piece: Piece, box: Box): Promise<void> {
    const text = tellText(view, piece, box);
    const fresh = renameFor(piece.id, text.on);
    const isNear = this.chosenId === piece.id && fresh !== piece.id;
    const done = await this.change('set', text);
    if (!done) this.held = null;
    // On the other page it is the same text under another name: it stays chosen.
    else if (isNear && this.chosenId === piece.id) this.chosenId = fresh;
  }

  /** Pages `number` stands drawn as it is in `revision`. */
  tellDrawn(number: number, revision: string): void {
    this.#drawn.set(number, revision);
    untrack(() => this.#settle());
  }

  /** Where the pages show what was laid down, it is held no longer. */
  #settle(): void {
    const view = this.view;
    if (!view || !this.held?.laid || this.#busy > 0) return;
    if (view.pages.every(({ number }) => this.#drawn.get(number) === view.revision)) {
      this.held = null;
    }
  }

  #stopPause(): void {
    clearTimeout(this.#pause);
    this.#pause = 0;
  }

  // Cropping.

  beginCrop(): void {
    const piece = this.chosen;
    if (!piece?.picture) return;
    this.flush();
    this.held = { piece, box: piece.box, crop: piece.picture.crop, laid: false };
    this.doing = 'crop';
  }

  leaveCrop(): void {
    this.doing = 'lay';
    this.letBack();
  }

  async keepCrop(): Promise<void> {
    const held = this.held;
    this.doing = 'lay';
    this.guides = [];
    if (!held?.piece.picture) return;
    const { piece, box, crop } = held;
    if (sameBox(box, piece.box) && sameBox(crop, piece.picture?.crop ?? crop, 1e-5)) {
      this.held = null;
      return;
    }
    const byHand = this.view?.blocks.find(({ id }) => id === piece.block)?.by_hand ?? false;
    // A frame that was cut lies as the hand left it; else the layout goes on laying the block.
    if (byHand || !sameBox(box, piece.box)) return this.layDown();
    this.held = { ...held, laid: true };
    const kept = isWhole(crop) ? null : roundCrop(crop);
    const done = await this.change('crop', { photo: piece.picture?.photo, crop: kept });
    if (!done) this.held = null;
  }

  // Other things one does.

  /** Look for pictures of all pages that the chosen one may change places with. */
  async beginSwap(): Promise<void> {
    const photo = this.chosen?.picture?.photo;
    if (!photo) return;
    this.flush();
    this.doing = 'swap';
    this.others = null;
    try {
      const others = await fetchOthers(photo);
      if (this.chosen?.picture?.photo === photo) this.others = others;
    } catch (error) {
      this.doing = 'lay';
      book.problem = toProblem(error);
    }
  }

  /** Let the chosen picture change places with another; what comes here is chosen then. */
  async swap(other: string): Promise<void> {
    const photo = this.chosen?.picture?.photo;
    this.doing = 'lay';
    if (!photo || !(await this.change('swap', { photo, with: other }))) return;
    const come = this.pictures.find(({ picture }) => picture?.photo === other);
    if (come) this.show(come);
  }

  async openWays(): Promise<void> {
    this.flush();
    this.doing = 'ways';
    this.way = 0;
    this.ways = null;
    this.#waysOf = book.revision;
    try {
      this.ways = await fetchWays(this.page);
    } catch (error) {
      this.doing = 'lay';
      book.problem = toProblem(error);
    }
  }

  closeWays(): void {
    this.ways = null;
    this.way = 0;
    if (this.doing === 'ways') this.doing = 'lay';
  }

  /** Lay the pages in the way that is looked at. */
  async takeWay(): Promise<void> {
    const way = this.ways?.ways[this.way - 1];
    this.closeWays();
    if (way) await this.change('ways', { choice: way.choice });
  }

  /** Let the layout choose again. */
  async leaveToLayout(): Promise<void> {
    const choice = (this.ways?.now.choice ?? []).map(({ block }) => ({ block, way: null }));
    this.closeWays();
    await this.change('ways', { choice });
  }
}

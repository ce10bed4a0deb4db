/** Pages that were fetched lately, so that turning back does not ask again. */
import { askText } from '../shell/server';

const KEPT = 16;

export class PageStore {
  readonly #pages = new Map<string, Promise<string>>();

  constructor(readonly fetch: (address: string) => Promise<string> = askText) {}

  /** The SVG of a page as it is in this revision of the book; a failure is not remembered. */
  get(address: string, revision: string): Promise<string> {
    const key = `${revision} ${address}`;
    const known = this.#pages.get(key);
    const page = known ?? this.fetch(address);
    // Set anew even when known: the map's order is then the order of use.
    this.#pages.delete(key);
    this.#pages.set(key, page);
    if (!known) {
      page.catch(() => this.#pages.delete(key));
      const oldest = this.#pages.keys().next();
      if (this.#pages.size > KEPT && !oldest.done) this.#pages.delete(oldest.value);
    }
    return page;
  }
}

export const store = new PageStore();

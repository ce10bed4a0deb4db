/** Small pictures as they come, many in one answer: a browser asks for few things at once. */
import { SvelteMap } from 'svelte/reactivity';
import { askBytes } from '../../shell/server';
import { findCopy, type Facts } from './columns';
import { cutPack, PACKED } from './packs';

/** So many packs stay; a picture far away is asked for again. */
const KEPT = 60;

export class Packs {
  readonly #facts: Facts;
  readonly #there = new SvelteMap<number, readonly (string | null)[]>();
  readonly #coming = new Map<number, AbortController>();
  /** The packs that are there, the one wanted longest ago first. */
  readonly #used = new Set<number>();

  constructor(facts: Facts) {
    this.#facts = facts;
  }

  /** Where a picture's small copy is; undefined while that is on its way. */
  find(at: number): string | undefined {
    const pack = this.#there.get(Math.floor(at / PACKED));
    return pack && (pack[at % PACKED] ?? findCopy(this.#facts, at, 'small'));
  }

  /** Ask for what is near, the first first; what is on its way and near no more is let go. */
  want(near: readonly number[]): void {
    const wanted = new Set(near.map((at) => Math.floor(at / PACKED)));
    for (const [number, control] of this.#coming) if (!wanted.has(number)) control.abort();
    for (const number of wanted) {
      if (this.#used.delete(number)) this.#used.add(number);
      else if (!this.#coming.has(number)) void this.#fetch(number);
    }
    for (const number of this.#used) {
      if (this.#used.size <= KEPT) break;
      if (!wanted.has(number)) this.#letGo(number);
    }
  }

  /** Let go of all. */
  close(): void {
    for (const control of this.#coming.values()) control.abort();
    for (const number of this.#used) this.#letGo(number);
  }

  async #fetch(number: number): Promise<void> {
    const control = new AbortController();
    this.#coming.set(number, control);
    const address = `api/pictures/packs/${number}?facts=${this.#facts.key}`;
    // Where a pack does not come, its pictures are asked for one by one, and tell what is wrong.
    const bytes = await askBytes(address, control.signal).catch(() => null);
    this.#coming.delete(number);
    if (control.signal.aborted) return;
    const copies = bytes ? cutPack(bytes) : [];
    this.#there.set(
      number,
      copies.map((copy) => copy && URL.createObjectURL(copy)),
    );
    this.#used.add(number);
  }

  #letGo(number: number): void {
    for (const copy of this.#there.get(number) ?? []) if (copy) URL.revokeObjectURL(copy);
    this.#there.delete(number);
    this.#used.delete(number);
  }
}

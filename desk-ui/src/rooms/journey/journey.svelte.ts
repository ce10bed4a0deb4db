/** The journey as the room has it: fetched anew after every change of the book. */
import type { components } from '../../api';
import { book } from '../../shell/book.svelte';
import { ask, toProblem, type Problem } from '../../shell/server';

type Schemas = components['schemas'];
export type Journey = Schemas['Journey'];
export type Day = Schemas['JourneyDay'];
export type Stay = Schemas['JourneyStay'];
export type Leg = Schemas['JourneyLeg'];
export type Lodging = Schemas['JourneyLodging'];
export type Picture = Schemas['DayPicture'];
export type Doubt = Schemas['Doubt'];
export type Clocks = Schemas['Clocks'];
export type Clock = Schemas['Clock'];
export type MapView = Schemas['JourneyMap'];
export type JourneyFile = Schemas['JourneyFile'];

class JourneyRoom {
  view = $state.raw<Journey | null>(null);
  clocks = $state.raw<Clocks | null>(null);
  problem = $state.raw<Problem | null>(null);
  #asked = 0;
  #latest: Promise<void> = Promise.resolve();

  /** See the journey as it is now. Of answers that overtake each other the last one holds. */
  async look(): Promise<void> {
    const asked = ++this.#asked;
    this.#latest = this.#fetch(asked);
    await this.#latest;
    if (asked !== this.#asked) await this.#latest;
  }

  async #fetch(asked: number): Promise<void> {
    try {
      const [view, clocks] = await Promise.all([
        ask<Journey>('api/journey'),
        ask<Clocks>('api/journey/clocks'),
      ]);
      if (asked !== this.#asked) return;
      this.view = view;
      this.clocks = clocks;
      this.problem = null;
    } catch (error) {
      if (asked === this.#asked) this.problem = toProblem(error);
    }
  }

  /** Say something of the journey; whether it was taken. What was refused is told by the desk. */
  async say(address: string, body: unknown, method = 'PUT'): Promise<boolean> {
    const before = book.problem;
    await book.change(`api/journey/${address}`, body, method);
    const taken = !book.problem || book.problem === before;
    await this.look();
    return taken;
  }
}

export const room = new JourneyRoom();

/** Where a picture's small copy lies. */
export function smallPicture(photo: string, of: string): string {
  return `api/pictures/${photo}/small.jpg?of=${of}`;
}

/** Where its larger one does. */
export function largePicture(photo: string, of: string): string {
  return `api/pictures/${photo}/large.jpg?of=${of}`;
}

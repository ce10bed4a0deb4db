/** What the places of this room share: how the sheets stand, fetched anew when that may change. */
import { book } from '../../shell/book.svelte';
import { ask, send, toProblem } from '../../shell/server';
import { texts } from '../../texts';
import type { PrintFile, Sheets } from './sheets';

export class SheetsRoom {
  view = $state.raw<Sheets | null>(null);
  files = $state.raw<PrintFile[]>([]);

  /** Changes whenever the sheets or their files may: with the book, and when work has ended. */
  readonly moment = $derived.by(() => {
    const ended = (book.state?.works ?? []).filter(
      (work) => work.state !== 'waiting' && work.state !== 'going on',
    );
    return `${book.revision} ${book.state?.changes ?? 0} ${ended.map((work) => work.number).join()}`;
  });

  /** Whether the print files are being made just now. */
  readonly making = $derived(
    (book.state?.works ?? []).some(
      (work) =>
        work.name === texts.sheets.makingWork &&
        (work.state === 'waiting' || work.state === 'going on'),
    ),
  );

  async look(): Promise<void> {
    try {
      const [view, files] = await Promise.all([
        ask<Sheets>('api/sheets'),
        ask<PrintFile[]>('api/sheets/files'),
      ]);
      this.view = view;
      this.files = files;
    } catch (error) {
      book.problem = toProblem(error);
    }
  }

  /** Send something that answers with the sheets as they stand then; whether it was done. */
  async send(method: string, address: string, body: unknown = null): Promise<boolean> {
    book.saving += 1;
    try {
      this.view = await send<Sheets>(method, address, body);
      this.files = await ask<PrintFile[]>('api/sheets/files');
      return true;
    } catch (error) {
      book.problem = toProblem(error);
      return false;
    } finally {
      book.saving -= 1;
    }
  }

  make = (): Promise<unknown> => book.change('api/sheets/make');

  has(name: string): boolean {
    return this.files.some((file) => file.name === name);
  }
}

/** Where a print file is to be opened. */
export function addressOf(name: string): string {
  return `api/sheets/files/${name}.pdf`;
}

/** What is being written on a slip: the text before, the text now, and how it is kept. */
import { book } from '../../shell/book.svelte';
import { Refusal, type Problem } from '../../shell/server';
import { fill, texts } from '../../texts';
import type { OpenedSpread } from './opened.svelte';
import type { Piece } from './pieces';
import type { SpreadView, TextIn } from './wire';

/** The refusal of words that began from others than those kept now. */
interface Rewritten extends Problem {
  kept: string;
  kept_subtitle: string | null;
}

export interface Sheet {
  what: TextIn['what'];
  key: string;
  /** What it is called beside others on the same slip. */
  label: string;
  was: string;
  source: string;
  /** Titles have one, perhaps empty; null elsewhere. */
  wasSubtitle: string | null;
  subtitle: string | null;
  /** What is kept now, where another changed it meanwhile. */
  kept: { source: string; subtitle: string | null } | null;
}

export function beginWriting(piece: Piece): Sheet[] {
  return piece.texts.map((text) => ({
    what: text.what,
    key: text.key,
    label: nameSheet(text),
    was: text.source,
    source: text.source,
    wasSubtitle: text.subtitle,
    subtitle: text.subtitle,
    kept: null,
  }));
}

function nameSheet({ what, name }: TextIn): string {
  if (what === 'caption' && name) return fill(texts.spread.captionOf, { name });
  return texts.spread.kind[what];
}

export const isChanged = (sheet: Sheet): boolean =>
  sheet.source !== sheet.was || sheet.subtitle !== sheet.wasSubtitle;

/** What the server is told of a written sheet. */
export function tellSheet(sheet: Sheet): Record<string, unknown> {
  const { key, source, was, subtitle, wasSubtitle } = sheet;
  switch (sheet.what) {
    case 'caption':
      return { photo: key, caption: source, was };
    case 'title':
      return { place: key, title: source, subtitle, was, was_subtitle: wasSubtitle };
    case 'text':
      return { key, text: source, was };
  }
}

/**
 * Keep a sheet, and say whether it is kept. Where the text was changed meanwhile, its `kept` says
 * what it is now; for any other reason, as a full disk, the desk has told it.
 */
export async function keep(spread: OpenedSpread, sheet: Sheet): Promise<boolean> {
  const body = { page: spread.page, ...tellSheet(sheet) };
  const answer = await spread.send(async () => {
    try {
      return await book.attempt<SpreadView>(`api/spread/${sheet.what}`, body);
    } catch (error) {
      if (!(error instanceof Refusal) || !isRewritten(error.problem)) throw error;
      sheet.kept = { source: error.problem.kept, subtitle: error.problem.kept_subtitle };
      return null;
    }
  });
  if (answer) {
    sheet.was = sheet.source;
    sheet.wasSubtitle = sheet.subtitle;
  }
  return answer !== null;
}

const isRewritten = (problem: Problem): problem is Rewritten => 'kept' in problem;

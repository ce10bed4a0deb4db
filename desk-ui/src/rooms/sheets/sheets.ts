/** The sheets as rows of a list: how they are grouped, named and chosen. */
import type { components } from '../../api';

export type Sheets = components['schemas']['Sheets'];
export type Sheet = components['schemas']['Sheet'];
export type SheetSide = components['schemas']['SheetSide'];
export type PrintFile = components['schemas']['File'];

/** Sheets under one heading: a gathering's, or all translucent ones (`gathering` null). */
export interface Group {
  gathering: number | null;
  sheets: Sheet[];
}

/** The sheets in the order of printing, under their headings. */
export function groupSheets(sheets: Sheet[]): Group[] {
  const groups: Group[] = [];
  for (const sheet of sheets) {
    const gathering = sheet.material === 'paper' ? sheet.gathering : null;
    const last = groups.at(-1);
    if (last && last.gathering === gathering) last.sheets.push(sheet);
    else groups.push({ gathering, sheets: [sheet] });
  }
  return groups;
}

/** The names from one sheet to another, both with them, whichever comes first. */
export function nameRange(sheets: Sheet[], from: string, to: string): string[] {
  const ends = [from, to].map((name) => sheets.findIndex((sheet) => sheet.name === name));
  const [first, last] = [Math.min(...ends), Math.max(...ends)];
  return first < 0 ? [] : sheets.slice(first, last + 1).map((sheet) => sheet.name);
}

/** The sheet that is so many places further on, held at the ends of the list. */
export function stepFrom(sheets: Sheet[], name: string, by: number): string {
  const at = sheets.findIndex((sheet) => sheet.name === name);
  const to = Math.min(Math.max(at + by, 0), sheets.length - 1);
  return sheets[to]?.name ?? name;
}

/** How many of these are chosen: all of them, none, or some. */
export function judgeChosen(sheets: Sheet[], chosen: ReadonlySet<string>): 'all' | 'none' | 'some' {
  const number = sheets.filter((sheet) => chosen.has(sheet.name)).length;
  return number === 0 ? 'none' : number === sheets.length ? 'all' : 'some';
}

/** A reason, and the page it speaks of where it names one. */
export function readReason(reason: string): { page: number | null; words: string } {
  const page = /^page (\d+): /.exec(reason)?.[1];
  return { page: page ? Number(page) : null, words: reason };
}

/** Where the arrow stands that shows which edge goes in first: at the right, or at the head. */
export function placeArrow(feed: string, aspect: number): 'right' | 'head' {
  return (feed === 'short-edge') === aspect >= 1 ? 'right' : 'head';
}

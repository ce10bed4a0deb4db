/** What is drawn over the pages; remembered from one visit to the next. */
export const SHOWABLE = ['trim', 'fold', 'safe', 'grid', 'sizes', 'faces'] as const;

export type Showable = (typeof SHOWABLE)[number];
export type Shown = Record<Showable, boolean>;

const KEY = 'wayfold-spread-shown';

export function readShown(): Shown {
  const kept = (localStorage.getItem(KEY) ?? '').split(' ');
  return Object.fromEntries(SHOWABLE.map((what) => [what, kept.includes(what)])) as Shown;
}

export function keepShown(shown: Shown): void {
  localStorage.setItem(KEY, SHOWABLE.filter((what) => shown[what]).join(' '));
}

/** How the person likes the pictures shown, kept in this browser. */
const NAME = 'wayfold-pictures-';

/** A whole number from 0 to `most` that was kept; `usual` where none was. */
export function readChoice(what: string, usual: number, most: number): number {
  const kept = Number(localStorage.getItem(NAME + what) ?? NaN);
  return Number.isInteger(kept) && kept >= 0 && kept <= most ? kept : usual;
}

export function keepChoice(what: string, value: number): void {
  localStorage.setItem(NAME + what, String(value));
}

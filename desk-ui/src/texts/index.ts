/** All words of the desk. Another language is another folder beside `en` with the same keys. */
import { english } from './en';

export type Catalogue = typeof english;

export const texts: Catalogue = english;

/** Put values in the places of a text: "{count} pictures" with `count`. */
export function fill(text: string, values: Record<string, string | number>): string {
  return text.replace(/\{(\w+)\}/g, (place, name: string) => String(values[name] ?? place));
}

/** A text in the forms that a number asks for (Unicode CLDR plural rules). */
export interface Forms {
  one: string;
  other: string;
}

const rules = new Intl.PluralRules('en');

/** The form for `count`, which stands at {count}. */
export function count(forms: Forms, number: number): string {
  const form = rules.select(number) === 'one' ? forms.one : forms.other;
  return fill(form, { count: number });
}

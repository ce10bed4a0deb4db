/** Numbers as people write them: a comma or a point, a minus of either kind. */
export function readNumber(written: string): number | null {
  const plain = written.trim().replace(',', '.').replace('−', '-').replace(/^\+/, '');
  return /^-?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : null;
}

/** A number of millimetres as it stands in a field. */
export function writeNumber(value: number | null): string {
  return value === null ? '' : String(value).replace('-', '−');
}

/** Fields by their names, as they are written. */
export type Fields = Record<string, string>;

/** Put `fresh` into the fields that hold what was `shown`; what was written meanwhile stays. */
export function putIn(written: Fields, shown: Fields, fresh: Fields): Fields {
  return Object.fromEntries(
    Object.entries(fresh).map(([name, value]) => [
      name,
      written[name] === shown[name] ? value : (written[name] ?? value),
    ]),
  );
}

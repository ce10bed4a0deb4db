/** Numbers as people write them: a comma or a point, a minus of either kind. */
export function readNumber(written: string): number | null {
  const plain = written.trim().replace(',', '.').replace('−', '-').replace(/^\+/, '');
  return /^-?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : null;
}

/** A number of millimetres as it stands in a field. */
export function writeNumber(value: number | null): string {
  return value === null ? '' : String(value).replace('-', '−');
}

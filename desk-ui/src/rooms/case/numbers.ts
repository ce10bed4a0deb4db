/** Numbers as people write and read them. */
import { caseRoom } from '../../texts/en/case';
import { fill } from '../../texts';

/** The number that is written, with a point or a comma; null for nothing, NaN for no number. */
export function readNumber(written: string): number | null {
  const text = written
    .trim()
    .replace(/\s*(mm|µm)$/, '')
    .replace(',', '.')
    .replace('−', '-');
  if (text === '') return null;
  return /^-?\d+(\.\d*)?$|^-?\.\d+$/.test(text) ? Number(text) : Number.NaN;
}

/** A length in mm to tenths, small ones to hundredths, as a rule or a calliper reads them. */
export function writeLength(length: number): string {
  return length.toFixed(Math.abs(length) < 5 ? 2 : 1).replace('-', '−');
}

/** A number as it was given: no zeros after it. */
export function writeNumber(number: number): string {
  return String(Math.round(number * 1e4) / 1e4).replace('-', '−');
}

const RANGES = new Set(['range', 'square-fore']);

/** A figure's values in one line. */
export function writeFigure(name: string, values: number[]): string {
  const [first = 0, second = 0] = values;
  if (name === 'thread-length') {
    return fill(caseRoom.metres, { length: (first / 1000).toFixed(1) });
  }
  if (RANGES.has(name)) {
    return fill(caseRoom.to, { low: writeLength(first), high: writeLength(second) });
  }
  if (name === 'holes') return values.map((value) => value.toFixed(1)).join(', ');
  return values.map(writeLength).join(' × ');
}

/** A day (ISO 8601) in words: "12 November". */
export function writeDay(day: string): string {
  const date = new Date(`${day}T12:00:00`);
  if (Number.isNaN(date.getTime())) return day;
  return date.toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
}

/** Money: two decimals, the sign before it. */
export function writeMoney(money: string, amount: number): string {
  return `${money} ${amount.toFixed(2)}`;
}

/** What an arrow key adds to a number: as much as one would change it by at the bench. */
export function findStep(measure: { unit: string; value: unknown; start: unknown }): number {
  if (measure.unit === 'µm') return 5;
  if (measure.unit === 'mm') return 0.5;
  const whole = Number.isInteger(measure.start) && Number(measure.start) > 1;
  return whole ? 1 : 0.05;
}

/** Times in words. A local time is an ISO text without a zone; it is never turned into another. */
const DAY = new Intl.DateTimeFormat('en-GB', { weekday: 'long', timeZone: 'UTC' });
const MONTH = new Intl.DateTimeFormat('en-GB', { month: 'long', timeZone: 'UTC' });
const FULL = new Intl.DateTimeFormat('en-GB', {
  weekday: 'long',
  day: 'numeric',
  month: 'long',
  timeZone: 'UTC',
});
const SHORT = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'long', timeZone: 'UTC' });

export interface DayName {
  number: string;
  weekday: string;
  month: string;
}

/** The parts of a day's name: "12", "Monday", "May". */
export function nameDay(date: string): DayName {
  const day = new Date(`${date}T00:00:00Z`);
  return {
    number: String(day.getUTCDate()),
    weekday: DAY.format(day),
    month: MONTH.format(day),
  };
}

/** "Monday 12 May". */
export function sayDay(date: string): string {
  return FULL.format(new Date(`${date}T00:00:00Z`)).replace(',', '');
}

/** "12 May", "12–14 May", or "30 May – 2 June": the rule closed up within a month. */
export function sayDays(first: string, last: string): string {
  const [from, to] = [first, last].map((day) => new Date(`${day}T00:00:00Z`)) as [Date, Date];
  if (first === last) return SHORT.format(from);
  const rule = first.slice(0, 7) === last.slice(0, 7) ? '–' : ' – ';
  return SHORT.formatRange(from, to).replace(/\s–\s/, rule);
}

/** "18:45" of "2025-10-13T18:45:00"; with the seconds where they are asked for. */
export function clockOf(local: string, seconds = false): string {
  return local.slice(11, seconds ? 19 : 16);
}

/** The day of a local time. */
export function dayOf(local: string): string {
  return local.slice(0, 10);
}

/** A length of time in the units it needs: "1 h 4 min", "3 min 20 s". */
export function sayLength(seconds: number): string {
  let left = Math.round(Math.abs(seconds));
  const parts: string[] = [];
  for (const [size, unit] of [
    [86_400, 'd'],
    [3_600, 'h'],
    [60, 'min'],
    [1, 's'],
  ] as const) {
    if (left >= size || (size === 1 && !parts.length)) {
      parts.push(`${Math.floor(left / size)}\u00a0${unit}`);
      left %= size;
    }
  }
  return parts.join('\u00a0');
}

/** The local time, as ISO text, of an instant (s since 1970 UTC) so many minutes east of UTC. */
export function localAt(atS: number, east: number): string {
  return new Date((atS + east * 60) * 1000).toISOString().slice(0, 19);
}

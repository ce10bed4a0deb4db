/**
 * Whether what is written now is still what was sent: an answer closes or clears a form only then.
 * Who went on writing while it was on its way keeps what they wrote.
 */
export function isAsSent(sent: unknown, written: unknown): boolean {
  return JSON.stringify(sent) === JSON.stringify(written);
}

/**
 * Fields after an answer: what it says, but for those written over since, which stand.
 * `known` is what the fields began from, `sent` what of them was sent.
 */
export function mergeWritten(
  written: Readonly<Record<string, string>>,
  known: Readonly<Record<string, string>>,
  sent: Readonly<Record<string, string>>,
  fresh: Readonly<Record<string, string>>,
): Record<string, string> {
  const own = Object.entries(written).filter(
    ([key, value]) => key in fresh && value !== known[key] && value !== sent[key],
  );
  return { ...fresh, ...Object.fromEntries(own) };
}

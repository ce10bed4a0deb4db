/** A pack of small pictures: how long each is, in four bytes, the lowest first; then all of them. */
export const PACKED = 24;

/** Cut a pack; null for a picture that is not in it. A pack cut short holds fewer. */
export function cutPack(bytes: ArrayBuffer): (Blob | null)[] {
  if (bytes.byteLength < 4 * PACKED) return [];
  const lengths = new DataView(bytes);
  const found: (Blob | null)[] = [];
  let from = 4 * PACKED;
  for (let i = 0; i < PACKED; i++) {
    const to = from + lengths.getUint32(4 * i, true);
    const whole = to > from && to <= bytes.byteLength;
    found.push(whole ? new Blob([bytes.slice(from, to)], { type: 'image/jpeg' }) : null);
    from = to;
  }
  return found;
}

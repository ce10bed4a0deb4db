import { describe, expect, it } from 'vitest';
import { cutPack, PACKED } from './packs';

const pack = (pieces: readonly number[][]): ArrayBuffer => {
  const lengths = new DataView(new ArrayBuffer(4 * PACKED));
  pieces.forEach((piece, i) => lengths.setUint32(4 * i, piece.length, true));
  return new Uint8Array([...new Uint8Array(lengths.buffer), ...pieces.flat()]).buffer;
};

const read = (found: readonly (Blob | null)[]): Promise<(number[] | null)[]> =>
  Promise.all(found.map(async (one) => one && [...new Uint8Array(await one.arrayBuffer())]));

describe('a pack', () => {
  it('is cut into its pictures, and tells which are not there', async () => {
    const found = await read(cutPack(pack([[1, 2, 3], [], [4]])));
    expect(found).toHaveLength(PACKED);
    expect(found.slice(0, 4)).toEqual([[1, 2, 3], null, [4], null]);
  });

  it('cut short holds only what is whole', async () => {
    const whole = pack([
      [1, 2, 3],
      [4, 5],
    ]);
    expect((await read(cutPack(whole.slice(0, -1)))).slice(0, 2)).toEqual([[1, 2, 3], null]);
    expect(cutPack(whole.slice(0, 50))).toEqual([]);
  });
});

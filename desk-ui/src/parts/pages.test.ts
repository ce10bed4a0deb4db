import { describe, expect, it, vi } from 'vitest';
import { PageStore } from './pages';

describe('PageStore', () => {
  it('asks once for a page of a revision', async () => {
    const fetch = vi.fn((address: string) => Promise.resolve(`page ${address}`));
    const store = new PageStore(fetch);
    expect(await store.get('3', 'a')).toBe('page 3');
    expect(await store.get('3', 'a')).toBe('page 3');
    expect(fetch).toHaveBeenCalledTimes(1);
    await store.get('3', 'b');
    expect(fetch).toHaveBeenCalledTimes(2);
  });

  it('asks again after a failure', async () => {
    const fetch = vi.fn<(address: string) => Promise<string>>();
    fetch.mockRejectedValueOnce(new Error('away')).mockResolvedValueOnce('here');
    const store = new PageStore(fetch);
    await expect(store.get('1', 'a')).rejects.toThrow('away');
    expect(await store.get('1', 'a')).toBe('here');
  });

  it('keeps the pages used last and lets the others go', async () => {
    const fetch = vi.fn((address: string) => Promise.resolve(address));
    const store = new PageStore(fetch);
    for (let number = 1; number <= 16; number++) await store.get(`${number}`, 'a');
    await store.get('1', 'a');
    await store.get('17', 'a');
    fetch.mockClear();
    await store.get('1', 'a');
    expect(fetch).not.toHaveBeenCalled();
    await store.get('2', 'a');
    expect(fetch).toHaveBeenCalledWith('2');
  });
});

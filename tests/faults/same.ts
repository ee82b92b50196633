// A tablet holds what the server holds.
import { expect } from 'vitest';
import { sha256OfBytes } from '../../frontend/src/storage/files';
import type { Account } from './bench';
import type { Held } from './tablet';

/** Entries, standing values, rows and files are the same, byte by byte. */
export async function expectSame(held: Held, there: Account): Promise<void> {
  expect([...held.refused]).toEqual([]);
  expect(Object.fromEntries(held.entries)).toEqual(there.entries);
  for (const [sha256, bytes] of held.files) {
    expect(await sha256OfBytes(bytes)).toBe(sha256);
    expect({ sha256, isThere: there.files.includes(sha256) }).toEqual({ sha256, isThere: true });
  }
  const standing = [...held.standing].map(([name, { kind, values }]) => [name, [kind, values]]);
  const stands = Object.entries(there.standing).map(([name, [kind, now]]) => [
    name,
    [kind, now.values],
  ]);
  expect(Object.fromEntries(standing)).toEqual(Object.fromEntries(stands));
  expect(Object.fromEntries(held.rows)).toEqual(there.rows);
}

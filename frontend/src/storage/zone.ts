/** The time zone of the book: its days are the days that rows and histories show. */

import { fieldValues, type Standing } from '@sync/standing';
import type { Transaction } from './schema';

/** The time zone of the book by its IANA name, UTC while none stands. */
export async function bookZone(tx: Transaction): Promise<string> {
  const row = await tx.objectStore('standing').get('book');
  const names = fieldValues((row as unknown as Standing | undefined) ?? null, 'time_zone');
  const found = Object.keys(names).sort();
  return found.map((id) => String(names[id])).find(isZone) ?? 'UTC';
}

function isZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return true;
  } catch {
    return false; // The Intl of this browser knows no zone of this name.
  }
}

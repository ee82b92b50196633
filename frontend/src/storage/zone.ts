/** The time zone of the book: its days are the days that rows and histories show. */

import { fieldValues, type Standing } from '@sync/standing';
import { isZone } from '../domain/days';
import type { Transaction } from './schema';

/** The time zone of the book by its IANA name, UTC while none stands. */
export async function bookZone(tx: Transaction): Promise<string> {
  const row = await tx.objectStore('standing').get('book');
  const names = fieldValues((row as unknown as Standing | undefined) ?? null, 'time_zone');
  const found = Object.keys(names).sort();
  return found.map((id) => String(names[id])).find(isZone) ?? 'UTC';
}

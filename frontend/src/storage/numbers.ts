/** Remembers the highest number of every letter ever seen: a number is never given twice. */

import type { Entry } from '@sync/entry';
import { readNumber, writeNumber } from '../domain/numbers';
import type { Transaction, WriteTransaction } from './schema';
import { unwaited } from './unwaited';

const KEY = 'numbers';
type Highest = Record<string, number>;

/** Takes the numbers of new entries in, whether they count or not. */
export async function keepNumbers(tx: WriteTransaction, entries: readonly Entry[]): Promise<void> {
  const found = entries.flatMap(numbersOf);
  if (found.length === 0) return;
  const highest = { ...(((await tx.objectStore('meta').get(KEY)) ?? {}) as Highest) };
  for (const [letter, serial] of found) {
    highest[letter] = Math.max(serial, highest[letter] ?? 0);
  }
  unwaited(tx.objectStore('meta').put(highest, KEY));
}

/** The serial after the highest of a letter. */
export async function nextSerial(tx: Transaction, letter: string): Promise<number> {
  const highest = ((await tx.objectStore('meta').get(KEY)) ?? {}) as Highest;
  return (highest[letter] ?? 0) + 1;
}

/** The highest number of a letter that is known here, null before the first. */
export async function lastNumber(tx: Transaction, letter: string): Promise<string | null> {
  const next = await nextSerial(tx, letter);
  return next > 1 ? writeNumber(letter, next - 1) : null;
}

function numbersOf(entry: Entry): [string, number][] {
  const { number } = entry.set;
  if (entry.kind !== 'defect' || typeof number !== 'string') return [];
  try {
    return [readNumber(number)];
  } catch {
    return [];
  }
}

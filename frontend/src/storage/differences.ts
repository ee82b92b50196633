/** What was worked out again and differs from what the book has, and how the book takes it over. */

import type { BookStore } from './database';
import { type Keyed, keysOf, partsOf, type RowOf, rowsOf } from './parts';
import { nextTime } from './rows';
import { unwaited } from './unwaited';

interface Change<N extends Keyed> {
  put: RowOf<N>[];
  gone: string[];
}

export interface Differences {
  /** How many entries were compared. */
  count: number;
  entries: Change<'entries'>;
  standing: Change<'standing'>;
  rows: Change<'rows'>;
}

/** Compares a book with what was derived of its lines; null: it has more lines by now. */
export async function differences(
  store: BookStore,
  beside: BookStore,
): Promise<Differences | null> {
  const entries = await compare('entries', store, beside);
  if (entries.gone.length > 0) return null;
  const [count, standing, rows] = await Promise.all([
    beside.read(['entries'], (tx) => tx.objectStore('entries').count()),
    compare('standing', store, beside),
    compare('rows', store, beside),
  ]);
  return { count, entries, standing, rows };
}

/** Takes the differences over, all of them or none; says whether it had no more lines by then. */
export function takeOver(store: BookStore, found: Differences, rules: string): Promise<boolean> {
  const { entries, standing, rows } = found;
  return store.write(['entries', 'standing', 'rows', 'meta'], async (tx) => {
    if ((await tx.objectStore('entries').count()) !== found.count) return false;
    const at = await nextTime(tx);
    for (const row of entries.put) unwaited(tx.objectStore('entries').put(row));
    for (const row of standing.put) unwaited(tx.objectStore('standing').put(row));
    for (const row of rows.put) unwaited(tx.objectStore('rows').put({ ...row, at }));
    for (const key of standing.gone) unwaited(tx.objectStore('standing').delete(key));
    for (const key of rows.gone) unwaited(tx.objectStore('rows').delete(key));
    unwaited(tx.objectStore('meta').put(rules, 'rules'));
    return true;
  });
}

const PART = 1000;

async function compare<N extends Keyed>(
  name: N,
  store: BookStore,
  beside: BookStore,
): Promise<Change<N>> {
  const [had, has] = await Promise.all([keysOf(store, name), keysOf(beside, name)]);
  const left = new Set(has);
  const put: RowOf<N>[] = [];
  for (const part of partsOf(has, PART)) {
    const [before, now] = await Promise.all([
      rowsOf(store, name, part),
      rowsOf(beside, name, part),
    ]);
    for (const [key, row] of now) if (!isSame(said(before.get(key)), said(row))) put.push(row);
  }
  return { put, gone: had.filter((key) => !left.has(key)) };
}

/** What a row says; when it was written is no part of it. */
const said = (row: unknown) => (isObject(row) && 'numbers' in row ? { ...row, at: 0 } : row);

function isSame(one: unknown, other: unknown): boolean {
  if (!isObject(one) || !isObject(other)) return one === other;
  const keys = Object.keys(one);
  return (
    keys.length === Object.keys(other).length &&
    keys.every((key) => Object.hasOwn(other, key) && isSame(one[key], other[key]))
  );
}

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null;

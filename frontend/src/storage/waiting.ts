/** What waits on this browser: exactly the entries and files the server has not acknowledged. */

import type { StoreName, Transaction, UnsentFile, UnsentRow } from './schema';

export interface WaitingCounts {
  entries: number;
  records: Set<string>;
  /** Coverage: bays looked at, or why they were not. */
  bays: Set<string>;
  photographs: Set<string>;
  files: number;
  /** Wall time of the oldest of them, ms. */
  oldest_wall_ms: number | null;
}

export const WAITING_STORES: StoreName[] = ['unsent', 'unsent_files', 'standing'];

/** Kinds of what lies on a photograph. */
export const ON_PICTURES: readonly string[] = ['mark', 'scale', 'measurement'];
/** Kinds that are counted by themselves. */
const APART = ['photograph', 'coverage', ...ON_PICTURES];

/** Counts what waits, in one transaction. */
export async function countWaiting(tx: Transaction): Promise<WaitingCounts> {
  const [unsent, files] = await Promise.all([
    tx.objectStore('unsent').getAll(),
    tx.objectStore('unsent_files').getAll(),
  ]);
  const lying = new Set(recordsOf(unsent, (kind) => ON_PICTURES.includes(kind)));
  const marked = await Promise.all([...lying].map((one) => photographOf(tx, one)));
  return {
    entries: unsent.length,
    files: files.length,
    records: new Set(recordsOf(unsent, (kind) => !APART.includes(kind))),
    bays: new Set(recordsOf(unsent, (kind) => kind === 'coverage')),
    photographs: new Set([
      ...recordsOf(unsent, (kind) => kind === 'photograph'),
      ...marked,
      ...files.flatMap((file) => file.photographs),
    ]),
    oldest_wall_ms: oldest([...unsent, ...files]),
  };
}

function recordsOf(rows: readonly UnsentRow[], isWanted: (kind: string) => boolean): string[] {
  return rows.filter(({ kind }) => isWanted(kind)).map(({ record }) => record);
}

/** The photograph of what lies on one; itself while its photograph is not named here. */
async function photographOf(tx: Transaction, mark: string): Promise<string> {
  const row = await tx.objectStore('standing').get(mark);
  const named = Object.values(row?.values ?? {}).map((fields) => fields.photograph);
  return named.find((one): one is string => typeof one === 'string') ?? mark;
}

function oldest(rows: readonly (UnsentRow | UnsentFile)[]): number | null {
  return rows.length > 0 ? Math.min(...rows.map(({ wall_ms }) => wall_ms)) : null;
}

/** Takes entries in and keeps everything derived up with them, in one transaction. */

import { sizeBytes } from '@sync/canonical';
import type { Entry } from '@sync/entry';
import { isJudged } from '../domain/fields';
import { type Change, settle } from '../domain/ledger';
import { actOf, indexOf, knownOf, type Verdict } from '../domain/verdicts';
import { highestGrade } from './grades';
import { keepNumbers } from './numbers';
import { keepRows } from './rows';
import type { EntryRow, StandingRow, StoreName, Transaction, WriteTransaction } from './schema';
import { type Arrival, LogShelf } from './shelf';
import { counting, isWithdrawn, keepStandings } from './standings';
import { unwaited } from './unwaited';

export type { Arrival } from './shelf';

/** Stores a piece of work must open to take entries in. */
export const DERIVED_STORES: StoreName[] = [
  'entries',
  'standing',
  'rows',
  'meta',
  'files',
  'refused',
];

export interface Taken {
  /** Ids held now with these bytes. */
  held: string[];
  /** Verdicts that were made or changed, by id; captures left out. */
  verdicts: ReadonlyMap<string, Verdict>;
}

/** Stores new entries and derives what follows from them. */
export async function takeIn(tx: WriteTransaction, arrivals: readonly Arrival[]): Promise<Taken> {
  const held = await Promise.all(
    arrivals.map(({ entry }) => tx.objectStore('entries').get(entry.id)),
  );
  const fresh = new Map<string, Arrival>();
  const safe: string[] = [];
  for (const [at, arrival] of arrivals.entries()) {
    const { id } = arrival.entry;
    const here = held[at]?.sha256 ?? fresh.get(id)?.sha256;
    if (here === undefined) fresh.set(id, arrival);
    if (here === undefined || here === arrival.sha256) safe.push(id);
  }
  const late = arrivals.filter((one, at) => held[at]?.sha256 === one.sha256);
  const dated = await putCame(tx, late);
  const some = [...fresh.values()];
  const verdicts = some.length + dated.length > 0 ? await derive(tx, some, [], dated) : new Map();
  return { held: safe, verdicts };
}

/** Notes of entries held already when they came to the server; returns their records. */
async function putCame(tx: WriteTransaction, late: readonly Arrival[]): Promise<string[]> {
  const records: string[] = [];
  for (const { entry, came_ms } of late) {
    if (came_ms === undefined) continue;
    const row = (await tx.objectStore('entries').get(entry.id)) as EntryRow;
    if (row.came_ms === came_ms) continue;
    unwaited(tx.objectStore('entries').put({ ...row, came_ms }));
    records.push(entry.record);
  }
  return records;
}

/** Judges again what waited for a file, and makes the rows anew. */
export async function fileCame(tx: WriteTransaction, sha256: string): Promise<void> {
  await derive(tx, [], [sha256]);
}

async function derive(
  tx: WriteTransaction,
  arrivals: readonly Arrival[],
  files: readonly string[],
  dated: readonly string[] = [],
): Promise<ReadonlyMap<string, Verdict>> {
  const entries = arrivals.map(({ entry }) => entry);
  const [root, awaiting] = await Promise.all([keepRoot(tx, entries), recordsAwaiting(tx, entries)]);
  const changes = await judgeNew(tx, arrivals, files, root);
  putArrivals(tx, arrivals, changes);
  const turned = await putTurned(tx, changes);
  const [undone, withdrawn] = await Promise.all([
    recordsUndone(tx, changes),
    withdrawnAmong(tx, entries),
  ]);
  const again = new Set([...turned, ...undone, ...awaiting, ...dated]);
  const verdicts = new Map([...changes].map(([id, { now }]) => [id, now]));
  const now = await keepStandings(tx, entries, counting(verdicts, withdrawn), again);
  await keepNumbers(tx, entries);
  await keepRows(tx, now, files.length > 0);
  return verdicts;
}

/** The entry that created the book: the first that came to this browser, kept for good. */
async function keepRoot(tx: WriteTransaction, entries: readonly Entry[]): Promise<string | null> {
  const kept = (await tx.objectStore('meta').get('root')) as string | undefined;
  if (kept) return kept;
  const creates = (one: Entry) =>
    one.kind === 'book' && one.record === 'book' && Object.keys(one.seen).length === 0;
  const root = entries.find(creates)?.id ?? null;
  if (root) unwaited(tx.objectStore('meta').put(root, 'root'));
  return root;
}

function judgeNew(
  tx: Transaction,
  arrivals: readonly Arrival[],
  files: readonly string[],
  root: string | null,
): Promise<ReadonlyMap<string, Change>> {
  const shelf = new LogShelf(tx, arrivals);
  const known = knownOf({
    root,
    reached: (entry, ends) => shelf.isReached(entry, ends),
    refused: (writer, n) => shelf.isRefused(writer, n),
    gradeOf: (values, pins) => highestGrade(values, pins, (sha256) => shelf.json(sha256)),
  });
  const entries = arrivals.map(({ entry }) => entry);
  return shelf.ask(() => settle(entries, shelf, known, files));
}

function putArrivals(
  tx: WriteTransaction,
  arrivals: readonly Arrival[],
  changes: ReadonlyMap<string, Change>,
): void {
  for (const { entry, line, sha256, came_ms } of arrivals) {
    const size_bytes = sizeBytes(line);
    const { id, record, kind } = entry;
    const came = came_ms === undefined ? {} : { came_ms };
    const row = { id, line, size_bytes, sha256, record, kind, act: actOf(entry), ...came };
    const judged = isJudged(entry) ? judgedPart(entry, changes.get(id)?.now) : { refers: [] };
    unwaited(tx.objectStore('entries').put({ ...row, ...judged }));
  }
}

/** Writes the verdicts of older entries that changed; returns their records. */
async function putTurned(
  tx: WriteTransaction,
  changes: ReadonlyMap<string, Change>,
): Promise<string[]> {
  const turned = [...changes.values()].filter(({ before }) => before !== null);
  for (const { entry, now } of turned) {
    const row = (await tx.objectStore('entries').get(entry.id)) as EntryRow;
    const { verdict: _verdict, held: _held, withdraws: _withdraws, ...rest } = row;
    unwaited(tx.objectStore('entries').put({ ...rest, ...judgedPart(entry, now) }));
  }
  return turned.map(({ entry }) => entry.record);
}

function judgedPart(entry: Entry, verdict: Verdict | undefined) {
  if (!verdict) throw new Error(`Entry ${entry.id} was not judged.`);
  return {
    verdict,
    refers: [...indexOf(entry, verdict)],
    ...(verdict.code === 'leaver' ? { held: entry.device } : {}),
    ...(verdict.withdraws ? { withdraws: `${entry.id.slice(-8)} ${verdict.withdraws}` } : {}),
  };
}

/** Records of acts for which it may have changed whether they are undone. */
async function recordsUndone(
  tx: Transaction,
  changes: ReadonlyMap<string, Change>,
): Promise<string[]> {
  const acts = new Set<string>();
  for (const { entry, before, now } of changes.values()) {
    const was = before?.withdraws ?? null;
    if (was === now.withdraws) continue;
    for (const act of [was, now.withdraws]) if (act) acts.add(`${entry.id.slice(-8)} ${act}`);
  }
  const rows = await Promise.all(
    [...acts].map((act) => tx.objectStore('entries').index('act').getAll(act)),
  );
  return rows.flat().map(({ record }) => record);
}

/** Records that named one of these entries and lacked it so far. */
async function recordsAwaiting(tx: Transaction, entries: readonly Entry[]): Promise<string[]> {
  const index = tx.objectStore('standing').index('awaited');
  return (await Promise.all(entries.map(({ id }) => index.getAllKeys(id)))).flat();
}

/** The acts among these that a counting undo takes back. */
export async function withdrawnAmong(
  tx: Transaction,
  entries: readonly Entry[],
): Promise<Set<string>> {
  const acts = [...new Set(entries.map(actOf))];
  const undone = await Promise.all(acts.map((act) => isWithdrawn(tx, act)));
  return new Set(acts.filter((_act, at) => undone[at]));
}

export const NAMED_STORES: StoreName[] = ['standing', 'files'];

/** The field of each kind that pins a file which rules are read from. */
const PINNED_BY = { airframe: 'definition', standard: 'sha256', defect: 'standard' } as const;

/** Definitions and standards that the book names and this browser lacks. */
export async function namedFiles(tx: Transaction): Promise<string[]> {
  const kinds = Object.entries(PINNED_BY);
  const rows = await Promise.all(
    kinds.map(([kind]) => tx.objectStore('standing').index('kind').getAll(kind)),
  );
  const named = new Set(kinds.flatMap(([, field], at) => pinnedBy(rows[at] ?? [], field)));
  const lacking: string[] = [];
  for (const sha256 of named) {
    if ((await tx.objectStore('files').count(sha256)) === 0) lacking.push(sha256);
  }
  return lacking;
}

/** Definitions and standards that entries name. */
export function filesNamedBy(entries: readonly Entry[]): Set<string> {
  const named = Object.entries(PINNED_BY).flatMap(([kind, field]) => {
    const mine = entries.filter((entry) => entry.kind === kind);
    return pinnedBy([{ values: Object.fromEntries(mine.map(({ id, set }) => [id, set])) }], field);
  });
  return new Set(named);
}

export function pinnedBy(rows: readonly Pick<StandingRow, 'values'>[], field: string): string[] {
  const values = rows.flatMap((row) => Object.values(row.values).map((set) => set[field]));
  return values.flatMap((value) => {
    const sha256 =
      typeof value === 'object' ? (value as { sha256?: unknown } | null)?.sha256 : value;
    return typeof sha256 === 'string' && /^[0-9a-f]{64}$/.test(sha256) ? [sha256] : [];
  });
}

export interface PhotographFile {
  photographs: string[];
  media_type: string;
  size_bytes: number;
}

/** What the book says of the files that are photographs, by hash. */
export async function photographFiles(tx: Transaction): Promise<Record<string, PhotographFile>> {
  const found: Record<string, PhotographFile> = {};
  for (const row of await tx.objectStore('standing').index('kind').getAll('photograph')) {
    for (const { sha256, media_type, size_bytes } of Object.values(row.values)) {
      if (typeof sha256 !== 'string') continue;
      found[sha256] = {
        photographs: [...(found[sha256]?.photographs ?? []), row.record],
        media_type: typeof media_type === 'string' ? media_type : '',
        size_bytes: typeof size_bytes === 'number' ? size_bytes : 0,
      };
    }
  }
  return found;
}

/** Keeps what stands of every record up with the log. */

import type { Entry } from '@sync/entry';
import { add, type Counts, type Standing, standing } from '@sync/standing';
import { countedFields, FIELDS, recordKind } from '../domain/fields';
import { actOf, type Verdict } from '../domain/verdicts';
import type { Changed } from './rows';
import type { EntryRow, StandingRow, Transaction, WriteTransaction } from './schema';
import { pairOf } from './shelf';
import { unwaited } from './unwaited';

/** What counts of arriving entries: by their verdicts, and the acts that were undone. */
export function counting(
  verdicts: ReadonlyMap<string, Verdict>,
  withdrawn: ReadonlySet<string>,
): Counts {
  return (entry) => {
    const counts = (verdicts.get(entry.id)?.result ?? 'counts') === 'counts';
    return countedFields(entry, counts, withdrawn.has(actOf(entry)));
  };
}

/** Works out and keeps what stands of the records touched; returns those that changed.

`again` are records to be worked out from the log, which holds by now what arrived. */
export async function keepStandings(
  tx: WriteTransaction,
  arrived: readonly Entry[],
  counts: Counts,
  again: ReadonlySet<string>,
): Promise<Map<string, Changed>> {
  const changed = new Map<string, Changed>();
  const keep = (before: StandingRow | undefined, now: StandingRow) => {
    changed.set(now.record, { now, named_before: before?.names ?? [] });
    unwaited(tx.objectStore('standing').put(now));
  };
  const mine = [...byRecord(arrived)].filter(([record]) => !again.has(record));
  const keepNew = async ([record, entries]: (typeof mine)[number]) => {
    const before = await tx.objectStore('standing').get(record);
    keep(before, await keepOne(tx, before, entries, counts));
  };
  const keepAgain = async (record: string) => {
    const before = await tx.objectStore('standing').get(record);
    const row = await fromLog(tx, record);
    if (row) keep(before, row);
  };
  await Promise.all([...mine.map(keepNew), ...[...again].map(keepAgain)]);
  return changed;
}

async function keepOne(
  tx: Transaction,
  before: StandingRow | undefined,
  entries: readonly Entry[],
  counts: Counts,
): Promise<StandingRow> {
  const record = entries[0]?.record as string;
  const kinds = new Set([...entries, ...(before ? [before] : [])].map(({ kind }) => kind));
  const before_it = (before as unknown as Standing | undefined) ?? null;
  const after = kinds.size === 1 ? add(before_it, entries, counts) : null;
  if (after) return rowOf(record, entries[0]?.kind as string, after);
  return (await fromLog(tx, record)) as StandingRow;
}

async function fromLog(tx: Transaction, record: string): Promise<StandingRow | null> {
  const rows = await tx.objectStore('entries').index('record').getAll(record);
  if (rows.length === 0) return null;
  const entries = rows.map((row) => pairOf(row)[0]);
  const all = await Promise.all(rows.map((row) => countedOf(tx, row)));
  const counted = new Map(rows.map((row, at) => [row.id, all[at]] as const));
  const here = new Set(rows.map(({ id }) => id));
  const foreign = new Set(
    entries.flatMap(({ seen }) => Object.values(seen).flat()).filter((id) => !here.has(id)),
  );
  const elsewhere = new Set<string>();
  for (const id of foreign) {
    if ((await tx.objectStore('entries').count(id)) > 0) elsewhere.add(id);
  }
  const countedOfIt = (entry: Entry) => counted.get(entry.id) ?? false;
  const kind = recordKind(entries.map((entry) => [entry, countedOfIt(entry)] as const));
  const counts: Counts = (entry) => (entry.kind === kind ? countedOfIt(entry) : false);
  return rowOf(record, kind, standing(entries, counts, elsewhere));
}

async function countedOf(tx: Transaction, row: EntryRow): Promise<ReturnType<Counts>> {
  const [entry, verdict] = pairOf(row);
  const withdrawn = await isWithdrawn(tx, row.act);
  return countedFields(entry, verdict.result === 'counts', withdrawn);
}

/** Says whether a counting undo takes an act back. */
export async function isWithdrawn(tx: Transaction, act: string): Promise<boolean> {
  return (await tx.objectStore('entries').index('withdraws').count(act)) > 0;
}

function rowOf(record: string, kind: string, now: Standing): StandingRow {
  const { values, awaited, faults } = now;
  return {
    record,
    kind,
    values: values as StandingRow['values'],
    awaited: [...awaited],
    faults: faults.map((fault) => [...fault]),
    names: namedBy(kind, values as StandingRow['values']),
  };
}

/** The records that standing values name. */
function namedBy(kind: string, values: StandingRow['values']): string[] {
  const fields = Object.entries(FIELDS[kind] ?? {})
    .filter(([, field]) => field.type === 'record')
    .map(([name]) => name);
  const found = Object.values(values).flatMap((set) => fields.map((field) => set[field]));
  return [...new Set(found.filter((one): one is string => typeof one === 'string'))];
}

function byRecord(entries: readonly Entry[]): Map<string, Entry[]> {
  const found = new Map<string, Entry[]>();
  for (const entry of entries) {
    const mine = found.get(entry.record);
    if (mine) mine.push(entry);
    else found.set(entry.record, [entry]);
  }
  return found;
}

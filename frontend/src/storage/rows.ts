/** Keeps the row of every defect up with what stands. */

import { fileNumber } from '../domain/numbers';
import { type DefectRow, defectRow, type Related } from '../domain/projection';
import { chainLacks, type Other, otherOf } from '../domain/same_as';
import { definitionOf, standardOf } from './documents';
import { gather } from './relations';
import type { StandingRow, Transaction, WriteTransaction } from './schema';

/** What changed of a record: what stands now, and what it named before. */
export interface Changed {
  now: StandingRow;
  named_before: readonly string[];
}

/** Makes the rows anew that changed records take part in; `all`: a file came. */
export async function keepRows(
  tx: WriteTransaction,
  changed: ReadonlyMap<string, Changed>,
  all: boolean,
): Promise<void> {
  const names = all ? await everyDefect(tx) : await touched(tx, changed);
  const made = new Map<string, Made>();
  for (const name of [...names].sort()) {
    const row = await tx.objectStore('standing').get(name);
    if (row?.kind === 'defect') made.set(name, await make(tx, row));
  }
  await followChains(tx, made);
  await write(tx, made);
}

interface Made {
  standing: StandingRow;
  related: Related;
  row: DefectRow;
}

async function make(tx: Transaction, standing: StandingRow): Promise<Made> {
  const related = await gather(tx, standing.record);
  return { standing, related, row: await rowOf(tx, standing, related) };
}

async function rowOf(tx: Transaction, standing: StandingRow, related: Related): Promise<DefectRow> {
  const definition = await definitionOf(tx, standing);
  const standard = await standardOf(tx, standing);
  const { values, awaited } = standing;
  return defectRow(standing.record, { values, awaited, faults: [] }, related, definition, standard);
}

async function everyDefect(tx: Transaction): Promise<Set<string>> {
  return new Set(await tx.objectStore('standing').index('kind').getAllKeys('defect'));
}

/** The defects whose rows may change: by themselves, or by what names them. */
async function touched(
  tx: Transaction,
  changed: ReadonlyMap<string, Changed>,
): Promise<Set<string>> {
  const names = new Set<string>();
  for (const [record, { now, named_before }] of changed) {
    if (now.kind === 'defect') names.add(record);
    if (now.kind === 'airframe') for (const one of await naming(tx, record)) names.add(one);
    if (!['photograph', 'mark', 'stamp'].includes(now.kind)) continue;
    for (const one of [...now.names, ...named_before]) {
      names.add(one);
      // A mark names a photograph, and that the defect.
      if (now.kind !== 'mark') continue;
      const photograph = await tx.objectStore('standing').get(one);
      for (const defect of photograph?.names ?? []) names.add(defect);
    }
  }
  return withChains(tx, names);
}

async function naming(tx: Transaction, record: string): Promise<string[]> {
  const rows = await tx.objectStore('standing').index('names').getAll(record);
  return rows.filter(({ kind }) => kind === 'defect').map((row) => row.record);
}

/** Adds the records that are the same as one of these, and so on. */
async function withChains(tx: Transaction, names: Set<string>): Promise<Set<string>> {
  const waiting = [...names];
  for (let name = waiting.pop(); name !== undefined; name = waiting.pop()) {
    for (const behind of await naming(tx, name)) {
      if (names.has(behind)) continue;
      names.add(behind);
      waiting.push(behind);
    }
  }
  return names;
}

/** Makes the rows anew that stand as *Same as*, with the chains they belong to. */
async function followChains(tx: Transaction, made: Map<string, Made>): Promise<void> {
  const aside = [...made].filter(([, { row }]) => row.own_state === 'Same as');
  if (aside.length === 0) return;
  const others: Record<string, Other> = {};
  for (const [name, { row }] of made) others[name] = otherOf(row);
  const absent = new Set<string>();
  for (;;) {
    const lacking = aside
      .flatMap(([name]) => chainLacks(name, others))
      .filter((one) => !absent.has(one));
    if (lacking.length === 0) break;
    for (const one of lacking) {
      const kept = await tx.objectStore('rows').get(one);
      if (kept) others[one] = otherOf(kept.row as DefectRow);
      else absent.add(one);
    }
  }
  for (const [, one] of aside) {
    one.row = await rowOf(tx, one.standing, { ...one.related, others });
  }
}

async function write(tx: WriteTransaction, made: ReadonlyMap<string, Made>): Promise<void> {
  if (made.size === 0) return;
  const at = await nextTime(tx);
  const numbers = new Set<string>();
  for (const [name, { row }] of made) {
    const before = await tx.objectStore('rows').get(name);
    for (const one of [...(before?.numbers ?? []), ...keysOf(row)]) numbers.add(one);
    await tx.objectStore('rows').put({ record: name, numbers: keysOf(row), at, row });
  }
  for (const number of numbers) await keepShared(tx, number, at);
}

async function nextTime(tx: WriteTransaction): Promise<number> {
  const at = (((await tx.objectStore('meta').get('rows_at')) as number | undefined) ?? 0) + 1;
  await tx.objectStore('meta').put(at, 'rows_at');
  return at;
}

/** Marks the rows whose number another record bears, as after a tablet was cloned. */
async function keepShared(tx: WriteTransaction, number: string, at: number): Promise<void> {
  const kept = await tx.objectStore('rows').index('numbers').getAll(number);
  const bearers = kept.filter(({ row }) => keyOf((row as DefectRow).number) === number);
  for (const one of bearers) {
    const row = one.row as DefectRow;
    const number_shared = bearers.length > 1;
    if (row.number_shared === number_shared) continue;
    await tx.objectStore('rows').put({ ...one, at, row: { ...row, number_shared } });
  }
}

function keysOf({ number, also_numbers }: DefectRow): string[] {
  return [number, ...also_numbers].flatMap((one) => keyOf(one) ?? []);
}

/** The key a row is found under: its file number, or the text of a number of another form. */
function keyOf(number: string | null): string | null {
  if (number === null) return null;
  try {
    return fileNumber(number);
  } catch {
    return number;
  }
}

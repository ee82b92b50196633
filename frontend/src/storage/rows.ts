/** Keeps the row of every defect up with what stands. */

import { fileNumber } from '../domain/numbers';
import { type DefectRow, defectRow } from '../domain/projection';
import type { Related } from '../domain/projection_related';
import { chainLacks, type Other, otherOf } from '../domain/same_as';
import { Definitions, standardOf } from './documents';
import { gather } from './relations';
import type { RowKept, StandingRow, Transaction, WriteTransaction } from './schema';
import { unwaited } from './unwaited';
import { ON_PICTURES } from './waiting';
import { bookZone } from './zone';

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
  // The time zone of the book makes the days of every row.
  const names = [
    ...(all || changed.has('book') ? await everyDefect(tx) : await touched(tx, changed)),
  ].sort();
  const maker = new Maker(tx, names.length > 0 ? await bookZone(tx) : 'UTC');
  const made = new Map<string, Made>();
  for (let at = 0; at < names.length; at += AT_ONCE) {
    const part = names.slice(at, at + AT_ONCE);
    for (const one of await Promise.all(part.map((name) => maker.make(name)))) {
      if (one) made.set(one.standing.record, one);
    }
  }
  await followChains(tx, maker, made);
  await write(tx, made);
}

/** Rows made side by side: requests wait in line together instead of one after the other. */
const AT_ONCE = 100;

interface Made {
  standing: StandingRow;
  related: Related;
  before: RowKept | undefined;
  row: DefectRow;
}

class Maker {
  private readonly definitions: Definitions;

  constructor(
    private readonly tx: Transaction,
    private readonly zone: string,
  ) {
    this.definitions = new Definitions(tx);
  }

  async make(name: string): Promise<Made | null> {
    const [standing, before, related] = await Promise.all([
      this.tx.objectStore('standing').get(name),
      this.tx.objectStore('rows').get(name),
      gather(this.tx, name, this.zone),
    ]);
    if (standing?.kind !== 'defect') return null;
    return { standing, related, before, row: await this.row(standing, related) };
  }

  async row(standing: StandingRow, related: Related): Promise<DefectRow> {
    const [definition, standard] = await Promise.all([
      this.definitions.of(standing),
      standardOf(this.tx, standing, related.lines),
    ]);
    const { record, values, awaited } = standing;
    return defectRow(record, { values, awaited, faults: [] }, related, definition, standard);
  }
}

async function everyDefect(tx: Transaction): Promise<Set<string>> {
  return new Set(await tx.objectStore('standing').index('kind').getAllKeys('defect'));
}

const NAMING = ['photograph', ...ON_PICTURES, 'stamp', 'rivet_line'];

/** The defects whose rows may change: by themselves, or by what names them. */
async function touched(
  tx: Transaction,
  changed: ReadonlyMap<string, Changed>,
): Promise<Set<string>> {
  const names = new Set<string>();
  for (const [record, { now, named_before }] of changed) {
    if (now.kind === 'defect') names.add(record);
    if (now.kind === 'airframe') for (const one of await naming(tx, record)) names.add(one);
    if (!NAMING.includes(now.kind)) continue;
    for (const one of [...now.names, ...named_before]) {
      names.add(one);
      // What lies on a photograph names that, and the photograph the defect.
      if (!ON_PICTURES.includes(now.kind)) continue;
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
  for (let waiting = [...names]; waiting.length > 0; ) {
    const behind = await Promise.all(waiting.map((name) => naming(tx, name)));
    waiting = [...new Set(behind.flat())].filter((one) => !names.has(one));
    for (const one of waiting) names.add(one);
  }
  return names;
}

/** Makes the rows anew that stand as *Same as*, with the chains they belong to. */
async function followChains(
  tx: Transaction,
  maker: Maker,
  made: ReadonlyMap<string, Made>,
): Promise<void> {
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
    one.row = await maker.row(one.standing, { ...one.related, others });
  }
}

async function write(tx: WriteTransaction, made: ReadonlyMap<string, Made>): Promise<void> {
  if (made.size === 0) return;
  const at = await nextTime(tx);
  const numbers = new Set<string>();
  for (const [name, { row, before }] of made) {
    const keys = keysOf(row);
    const was = before?.row as DefectRow | undefined;
    if (was && was.number === row.number) row.number_shared = was.number_shared;
    else
      for (const one of [keyOf(was?.number ?? null), keyOf(row.number)]) if (one) numbers.add(one);
    unwaited(tx.objectStore('rows').put({ record: name, numbers: keys, at, row }));
  }
  for (const number of numbers) await keepShared(tx, number, at);
}

/** The time of rows that are written now. */
export async function nextTime(tx: WriteTransaction): Promise<number> {
  const at = (((await tx.objectStore('meta').get('rows_at')) as number | undefined) ?? 0) + 1;
  unwaited(tx.objectStore('meta').put(at, 'rows_at'));
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
    unwaited(tx.objectStore('rows').put({ ...one, at, row: { ...row, number_shared } }));
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

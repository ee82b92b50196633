/** Reads of this browser's book: rows, values, related records, histories. */

import type { Entry } from '@sync/entry';
import { fieldValues, type Standing } from '@sync/standing';
import { daysIn, momentsIn } from '../domain/days';
import type { HistoryLine } from '../domain/history';
import { fileNumber } from '../domain/numbers';
import { fallenIn, withoutFallen } from '../domain/scale_struck';
import { sameness, withoutHints } from '../domain/values';
import { actOf, isFields, type Pair, stateOf, type Verdict } from '../domain/verdicts';
import type { BookStore } from '../storage/database';
import { withdrawnAmong } from '../storage/derive';
import { everyRow } from '../storage/list';
import type { StandingRow, Transaction } from '../storage/schema';
import { cameMs, pairOf } from '../storage/shelf';
import { bookZone } from '../storage/zone';
import type { ActDraft, Book, DefectRow, Json, Session, Values, Written } from './shop';
import type { Writer } from './writer';

type Plain = { record: string } & Record<string, Json>;

export class KeptBook implements Book {
  /** In the order in which they first came to this page. */
  private readonly rows: DefectRow[] = [];
  private readonly places = new Map<string, number>();
  private rows_at: number | null = null;
  private last_read: Promise<unknown> = Promise.resolve();

  constructor(
    private readonly store: BookStore,
    private readonly writer: Writer,
    private readonly labelsOf: () => Promise<Record<string, string>>,
  ) {}

  writeAct(session: Session, drafts: ActDraft[]): Promise<Entry[]> {
    return this.writer.write(session, {
      records: drafts.map(({ record }) => record),
      count: drafts.length,
      must_count: false,
      build: () => drafts,
    });
  }

  newId(): string {
    return this.writer.newId();
  }

  /** Reads only the rows written since it was last asked: a list of thousands stays quick. */
  async defects(): Promise<DefectRow[]> {
    // One after the other: who asks while the whole book is read does not read it a second time.
    const read = this.last_read.then(() => this.readFresh());
    this.last_read = read.catch(() => {});
    await read;
    return [...this.rows];
  }

  private async readFresh(): Promise<void> {
    if (this.rows_at === null) {
      const { rows, at } = await everyRow(this.store);
      for (const { row } of rows) this.keep(row as DefectRow);
      this.rows_at = at;
    }
    const since = IDBKeyRange.lowerBound(this.rows_at, true);
    const fresh = await this.store.read(['rows'], (tx) =>
      tx.objectStore('rows').index('at').getAll(since),
    );
    for (const { at, row } of fresh) {
      this.keep(row as DefectRow);
      this.rows_at = Math.max(at, this.rows_at);
    }
  }

  /** Puts a row in its place in the list. */
  private keep(row: DefectRow): void {
    const at = this.places.get(row.record);
    if (at !== undefined) this.rows[at] = row;
    else {
      this.places.set(row.record, this.rows.length);
      this.rows.push(row);
    }
  }

  async defect(record: string): Promise<DefectRow | null> {
    const kept = await this.store.read(['rows'], (tx) => tx.objectStore('rows').get(record));
    return (kept?.row as DefectRow | undefined) ?? null;
  }

  async numbered(number: string): Promise<DefectRow[]> {
    const key = fileNumber(number);
    const kept = await this.store.read(['rows'], (tx) =>
      tx.objectStore('rows').index('numbers').getAll(key),
    );
    return kept.map(({ row }) => row as DefectRow);
  }

  async values(record: string): Promise<Values> {
    const row = await this.standing(record);
    return row ? valuesOf(row) : {};
  }

  async plain(record: string): Promise<Record<string, Json>> {
    const [row, kept] = await this.store.read(['standing', 'rows'], (tx) =>
      Promise.all([tx.objectStore('standing').get(record), tx.objectStore('rows').get(record)]),
    );
    if (!row) return {};
    if (!kept) return plainOf(row);
    // A figure that fell with its scale is shown as withdrawn wherever it is shown.
    const gone = fallenIn(kept.row as DefectRow);
    return plainOf({ ...row, values: withoutFallen(row.values, gone) as StandingRow['values'] });
  }

  async records(kind: string): Promise<Plain[]> {
    const rows = await this.store.read(['standing'], (tx) =>
      tx.objectStore('standing').index('kind').getAll(kind),
    );
    return rows.map(plainOf);
  }

  async related(record: string, kind: string): Promise<Plain[]> {
    if (kind === 'stamp') return this.stamps(record);
    const rows = await this.store.read(['standing'], (tx) =>
      tx.objectStore('standing').index('names').getAll(record),
    );
    return rows.filter((row) => row.kind === kind).map(plainOf);
  }

  /** Stamps of a record, each with its `entry`; `overrules` marks those of an act that overruled its
  grade. */
  private async stamps(record: string): Promise<Plain[]> {
    return this.store.read(['standing', 'entries'], async (tx) => {
      const entries = tx.objectStore('entries').index('record');
      const entriesOf = async (one: string) =>
        (await entries.getAll(one)).map((row) => pairOf(row)[0]);
      const rows = await tx.objectStore('standing').index('names').getAll(record);
      const overruling = new Set(
        (await entriesOf(record))
          .filter(({ set }) => set.overrule && !('disposition' in set))
          .map(({ act }) => act.id),
      );
      const stamps = rows.filter((row) => row.kind === 'stamp');
      return Promise.all(
        stamps.map(async (row) => {
          const made = await entriesOf(row.record);
          const overrules = made.some(({ act }) => overruling.has(act.id));
          const entry = made.find(({ set }) => set.list)?.id ?? null;
          return { ...plainOf(row), entry, overrules };
        }),
      );
    });
  }

  async history(record: string): Promise<HistoryLine[]> {
    // Its sentences are fetched with the first history that is opened.
    const { history } = await import('../domain/history');
    const people = await this.labelsOf();
    return this.store.read(['entries', 'standing'], async (tx) => {
      const around = await recordsAround(tx, record);
      const kept = await Promise.all(
        around.map((one) => tx.objectStore('entries').index('record').getAll(one)),
      );
      const pairs = kept.flat().map(pairOf);
      const [zone, called] = await Promise.all([bookZone(tx), namesOf(tx, record, pairs)]);
      const names = { ...called, ...people };
      const undone = await withdrawnAmong(
        tx,
        pairs.map(([entry]) => entry),
      );
      return history(pairs, names, momentsIn(zone, cameMs(kept.flat())), undone);
    });
  }

  async begunBy(records: readonly string[]): Promise<Record<string, string>> {
    return this.store.read(['entries'], async (tx) => {
      const index = tx.objectStore('entries').index('record');
      const kept = await Promise.all(records.map((one) => index.getAll(one)));
      const begun = kept
        .flat()
        .map(pairOf)
        .map(([entry]) => entry);
      const first = begun.filter((entry) => stateOf(entry).move === 'new');
      return Object.fromEntries(first.map((entry) => [entry.record, entry.by]));
    });
  }

  async begunAt(records: readonly string[]) {
    return this.store.read(['entries', 'standing'], async (tx) => {
      const index = tx.objectStore('entries').index('record');
      const kept = await Promise.all(records.map((one) => index.getAll(one)));
      const moment = momentsIn(await bookZone(tx), cameMs(kept.flat()));
      const entries = kept.flat().map((row) => pairOf(row)[0]);
      // The earliest is put in last.
      const late_first = entries.sort((a, b) => (a.id < b.id ? 1 : -1));
      return Object.fromEntries(late_first.map((entry) => [entry.record, moment(entry)]));
    });
  }

  async written(record: string, field: string): Promise<Written[]> {
    return this.store.read(['entries', 'standing'], async (tx) => {
      const rows = await tx.objectStore('entries').index('record').getAll(record);
      const pairs = rows.map(pairOf).filter(([{ set }]) => Object.hasOwn(set, field));
      const entries = pairs.map(([entry]) => entry);
      const undone = await withdrawnAmong(tx, entries);
      const day = daysIn(await bookZone(tx), cameMs(rows));
      return pairs
        .filter(([entry, { result }]) => result === 'counts' && !undone.has(actOf(entry)))
        .map(([entry]) => entry)
        .sort((a, b) => (a.id < b.id ? -1 : 1))
        .map((entry) => ({
          entry: entry.id,
          date: day(entry),
          value: (entry.set[field] ?? null) as Json,
          by: entry.by,
          why: entry.why ?? null,
        }));
    });
  }

  async verdicts(record: string) {
    const rows = await this.store.read(['entries'], (tx) =>
      tx.objectStore('entries').index('record').getAll(record),
    );
    const shown = rows.map(({ id, verdict }) => {
      const { result = 'counts', reason = '' } = (verdict ?? {}) as Partial<Verdict>;
      return [id, { result, reason }] as const;
    });
    return Object.fromEntries(shown);
  }

  async sentOn(day: string, device: string): Promise<Record<string, string[]>> {
    // An id begins with the ms of its making; no clock is further from the workshop's day.
    const from = String(Date.parse(day) - 86_400_000).padStart(13, '0');
    const [rows, unsent, zone] = await this.store.read(['entries', 'unsent', 'standing'], (tx) =>
      Promise.all([
        tx.objectStore('entries').getAll(IDBKeyRange.lowerBound(from)),
        tx.objectStore('unsent').getAll(),
        bookZone(tx),
      ]),
    );
    const moment = momentsIn(zone, cameMs(rows));
    const waiting = new Set(unsent.map((row) => row.record));
    const sent: Record<string, Set<string>> = {};
    for (const row of rows) {
      const entry = pairOf(row)[0];
      if (entry.device !== device || moment(entry)[0] !== day) continue;
      if (waiting.has(row.record)) continue;
      sent[row.kind] = (sent[row.kind] ?? new Set()).add(row.record);
    }
    return Object.fromEntries(Object.entries(sent).map(([kind, some]) => [kind, [...some]]));
  }

  async unsent(): Promise<Set<string>> {
    const { unsent, files } = await this.store.read(['unsent', 'unsent_files'], async (tx) => ({
      unsent: await tx.objectStore('unsent').getAll(),
      files: await tx.objectStore('unsent_files').getAll(),
    }));
    return new Set([
      ...unsent.map(({ record }) => record),
      ...files.flatMap(({ photographs }) => photographs),
    ]);
  }

  private standing(record: string): Promise<StandingRow | undefined> {
    return this.store.read(['standing'], (tx) => tx.objectStore('standing').get(record));
  }
}

/** A defect with its photographs, their marks and its stamps. */
async function recordsAround(tx: Transaction, record: string): Promise<string[]> {
  const named = tx.objectStore('standing').index('names');
  const mine = (await named.getAll(record)).filter(({ kind }) => kind !== 'defect');
  const marks = await Promise.all(
    mine.filter(({ kind }) => kind === 'photograph').map((one) => named.getAll(one.record)),
  );
  // A later picture of the same view names a photograph too, and may be another record's.
  const theirs = marks.flat().filter(({ kind }) => kind !== 'photograph');
  return [...new Set([record, ...[...mine, ...theirs].map((row) => row.record)])];
}

/** The field by which records of a kind are called. */
const CALLED_BY: Readonly<Record<string, string>> = {
  airframe: 'constructor',
  defect: 'number',
  photograph: 'role',
  survey: 'title',
};

/** What the records are called that entries name, for sentences. */
async function namesOf(
  tx: Transaction,
  record: string,
  pairs: readonly Pair[],
): Promise<Record<string, string>> {
  const ids = new Set([record, ...pairs.flatMap(([{ set }]) => textsIn(set))]);
  const rows = await Promise.all([...ids].map((id) => tx.objectStore('standing').get(id)));
  const found = rows.flatMap((row) => {
    const field = row && Object.hasOwn(CALLED_BY, row.kind) ? CALLED_BY[row.kind] : undefined;
    const name = row && field ? plainOf(row)[field] : null;
    return row && typeof name === 'string' && name ? [[row.record, name] as const] : [];
  });
  return Object.fromEntries(found);
}

/** The texts among the values of an entry, one step deep: ids are among them. */
function textsIn(set: Readonly<Record<string, unknown>>): string[] {
  const values = Object.values(set);
  const inside = values.filter(isFields).flatMap((value) => Object.values(value));
  return [...values, ...inside].filter((one): one is string => typeof one === 'string');
}

/** Every value that stands, equal ones together; a value taken away is none. */
export function valuesOf(row: StandingRow): Values {
  const fields = new Set(Object.values(row.values).flatMap((set) => Object.keys(set)));
  const found: Values = {};
  for (const field of [...fields].sort()) {
    const values = together(row, field);
    const isGone = values.length === 1 && values[0]?.value === null;
    if (!isGone) found[field] = values;
  }
  return found;
}

/**
 * The values of a field that differ, each with the entries that say so; one that was only copied
 * is none beside another.
 */
function together(row: StandingRow, field: string): Values[string] {
  const found = new Map<string, { value: Json; entries: string[] }>();
  const standing = Object.entries(fieldValues(row as unknown as Standing, field));
  for (const [id, value] of withoutHints(standing, ([, one]) => one)) {
    const same = sameness(row.kind, field, value);
    const before = found.get(same);
    if (before) before.entries.push(id);
    else found.set(same, { value: value as Json, entries: [id] });
  }
  return [...found.values()];
}

/** One value a field: the first that stands. */
export function plainOf(row: StandingRow): Plain {
  const values = Object.entries(valuesOf(row)).map(
    ([field, [first]]) => [field, first?.value ?? null] as const,
  );
  return { ...Object.fromEntries(values), record: row.record };
}

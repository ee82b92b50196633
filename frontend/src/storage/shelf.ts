/** The stored log as the ledger of verdicts asks it, inside one transaction.

The ledger asks without waiting, a store answers later. So what is asked for and not at hand is
noted and fetched, and the question is put again; what was fetched stays for the transaction. */

import { type Link, link, reached } from '@sync/chain';
import { type Entry, fromLine } from '@sync/entry';
import { isJudged } from '../domain/fields';
import type { Shelf } from '../domain/ledger';
import { actOf, COUNTS, indexOf, type Pair, unreached, type Verdict } from '../domain/verdicts';
import type { EntryRow, Transaction } from './schema';

/** An entry as it arrived, with the hash of its line. */
export interface Arrival {
  entry: Entry;
  line: string;
  sha256: string;
  /** When it came to the server, of an entry stamped too far ahead to be believed. */
  came_ms?: number | undefined;
}

/** The pair a stored row stands for. */
export function pairOf(row: EntryRow): Pair {
  return [fromLine(row.line), (row.verdict as Verdict | undefined) ?? COUNTS];
}

/** By id when those entries came that are stamped too far ahead. */
export function cameMs(rows: readonly EntryRow[]): Map<string, number> {
  return new Map(rows.flatMap(({ id, came_ms }) => (came_ms === undefined ? [] : [[id, came_ms]])));
}

/** Thrown where a question must be put again after fetching. */
class Lacking extends Error {}

/** Answers kept by key; a key that was never fetched is noted. */
class Answers<T> {
  private readonly known = new Map<string, T>();
  private readonly wanted = new Set<string>();

  /** The answers to some keys, or Lacking when one must be fetched first. */
  of(keys: Iterable<string>): T[] {
    const found: T[] = [];
    let lacks = false;
    for (const key of keys) {
      if (this.known.has(key)) found.push(this.known.get(key) as T);
      else {
        this.wanted.add(key);
        lacks = true;
      }
    }
    if (lacks) throw new Lacking();
    return found;
  }

  /** Notes keys that will be asked for. */
  want(keys: Iterable<string>): void {
    for (const key of keys) this.wanted.add(key);
  }

  async fetch(ask: (key: string) => Promise<T>): Promise<void> {
    if (this.wanted.size === 0) return;
    const keys = [...this.wanted];
    this.wanted.clear();
    const found = await Promise.all(keys.map(ask));
    for (const [at, key] of keys.entries()) this.known.set(key, found[at] as T);
  }
}

export class LogShelf implements Shelf {
  private readonly loads = new Answers<readonly Pair[]>();
  private readonly actsAsked = new Answers<readonly [string, Entry[]]>();
  private readonly indexes = new Answers<readonly Entry[]>();
  private readonly people = new Answers<readonly Pair[]>();
  private readonly heldAsked = new Answers<readonly Entry[]>();
  private readonly jsons = new Answers<unknown>();
  private readonly links = new Answers<readonly Link[]>();
  private readonly refusals = new Answers<ReadonlySet<string>>();
  private readonly reach = new Map<string, Set<string>>();

  constructor(
    private readonly tx: Transaction,
    private readonly arrivals: readonly Arrival[],
  ) {}

  /** Puts a question until everything it needs is at hand. */
  async ask<T>(question: () => T): Promise<T> {
    this.expect();
    await this.fetch();
    for (;;) {
      try {
        return question();
      } catch (error) {
        if (!(error instanceof Lacking)) throw error;
      }
      await this.fetch();
    }
  }

  load(ids: Iterable<string>): Map<string, Pair | null> {
    const asked = [...ids];
    const found = new Map<string, Pair | null>(asked.map((id) => [id, null]));
    for (const pairs of this.loads.of(asked)) for (const pair of pairs) found.set(pair[0].id, pair);
    return found;
  }

  acts(keys: Iterable<string>): Map<string, Entry[]> {
    return new Map(this.actsAsked.of(keys).filter(([, entries]) => entries.length > 0));
  }

  indexed(ids: Iterable<string>): Entry[] {
    return distinct(this.indexes.of(ids).flat());
  }

  person(person: string): Pair[] {
    return this.people.of([person]).flat();
  }

  held(devices: Iterable<string>): Entry[] {
    return distinct(this.heldAsked.of(devices).flat());
  }

  /** A JSON file by hash, null while it is not here or is none. */
  json(sha256: string): unknown {
    return this.jsons.of([sha256])[0];
  }

  /** Whether an entry is reached by `prev` from one of the ends. */
  isReached(entry: Entry, ends: readonly string[]): boolean {
    const key = [...ends].sort().join(' ');
    if (!this.reach.has(key)) {
      const kept = this.links.of(['all']).flat();
      const arrived = this.arrivals.map((one) => link(one.entry, one.sha256));
      this.reach.set(key, reached([...kept, ...arrived], ends));
    }
    return this.reach.get(key)?.has(entry.id) === true;
  }

  /** Whether an entry of a writer with this number was refused at the door. */
  isRefused(writer: string, n: number): boolean {
    return this.refusals.of(['all']).some((known) => known.has(`${writer} ${n}`));
  }

  /** Fetches in one go what is asked for of every arrival. */
  private expect(): void {
    const entries = this.arrivals.map(({ entry }) => entry);
    const judged = entries.filter(isJudged);
    this.indexes.want(entries.flatMap(({ id, device }) => [id, unreached(device)]));
    this.heldAsked.want(entries.map(({ device }) => device));
    this.actsAsked.want(judged.map(actOf));
    const arrived = new Set(entries.map(({ id }) => id));
    const named = judged.flatMap((entry) => [...indexOf(entry, COUNTS)]);
    this.loads.want(named.filter((id) => !arrived.has(id)));
  }

  private async fetch(): Promise<void> {
    const entries = this.tx.objectStore('entries');
    await Promise.all([
      this.loads.fetch((id) => this.pairsOf(id)),
      this.actsAsked.fetch(async (key) => {
        const rows = await entries.index('act').getAll(key);
        return [key, rows.map((row) => fromLine(row.line))];
      }),
      this.indexes.fetch((id) => this.entriesOf(entries.index('refers').getAll(id))),
      this.people.fetch((person) => this.judgedOf(person)),
      this.heldAsked.fetch((one) => this.entriesOf(entries.index('held').getAll(one))),
      this.fetchRules(),
    ]);
  }

  private async judgedOf(person: string): Promise<Pair[]> {
    const rows = await this.tx.objectStore('entries').index('record').getAll(person);
    const pairs = rows.filter((row) => row.kind === 'person').map(pairOf);
    return pairs.filter(([entry]) => isJudged(entry));
  }

  private async fetchRules(): Promise<void> {
    await this.jsons.fetch((sha256) => readJson(this.tx, sha256));
    await this.links.fetch(async () => {
      const rows = await this.tx.objectStore('entries').getAll();
      return rows.map((row) => link(fromLine(row.line), row.sha256));
    });
    await this.refusals.fetch(async () => {
      const rows = await this.tx.objectStore('refused').getAll();
      return new Set(rows.map(({ id, n }) => `${id.slice(-8)} ${n}`));
    });
  }

  /** An entry, and where it waits the others of its act. */
  private async pairsOf(id: string): Promise<Pair[]> {
    const row = await this.tx.objectStore('entries').get(id);
    if (!row) return [];
    const pair = pairOf(row);
    if (pair[1].plain !== 'waits') return [pair];
    const mates = await this.tx.objectStore('entries').index('act').getAll(actOf(pair[0]));
    return mates.map(pairOf);
  }

  private async entriesOf(rows: Promise<EntryRow[]>): Promise<Entry[]> {
    return (await rows).map((row) => fromLine(row.line));
  }
}

/** Files that rules are read from never change, so each is read once. */
const READ = new Map<string, unknown>();

/** Reads a JSON object by hash, null while it is not here or is none. */
export async function readJson(tx: Transaction, sha256: string): Promise<unknown> {
  const known = READ.get(sha256);
  if (known !== undefined) return known;
  const bytes = await tx.objectStore('files').get(sha256);
  if (!bytes) return null;
  try {
    const value: unknown = JSON.parse(new TextDecoder().decode(bytes));
    READ.set(sha256, value);
    return value;
  } catch {
    return null;
  }
}

function distinct(entries: readonly Entry[]): Entry[] {
  return [...new Map(entries.map((entry) => [entry.id, entry])).values()];
}

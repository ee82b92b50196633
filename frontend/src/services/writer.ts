/** Writes acts: fills in what an entry needs, and stores it with all that follows at once. */

import { sha256Hex, sizeBytes } from '@sync/canonical';
import { type Chain, type Draft, writeAct } from '@sync/chain';
import { newClock, newWriter, receive, runsAhead, tick } from '@sync/clock';
import type { Entry } from '@sync/entry';
import { type Standing, seenFor } from '@sync/standing';
import { Refused } from '../domain/errors';
import { actOf } from '../domain/verdicts';
import type { BookStore } from '../storage/database';
import { type Arrival, DERIVED_STORES, takeIn } from '../storage/derive';
import { type FileToKeep, putFile } from '../storage/files';
import type { StandingRow, StoreName, Transaction, WriteTransaction } from '../storage/schema';
import { unwaited } from '../storage/unwaited';
import type { Clock } from './clock';
import type { ActDraft, Session } from './shop';

export const SCHEMA = 1;
const KEY = 'chain';
const STORES: StoreName[] = [...DERIVED_STORES, 'unsent'];
const WITH_FILE: StoreName[] = [...STORES, 'unsent_files'];

/** What a browser keeps of its clock and of its last entry. */
interface KeptChain {
  last_ms: number;
  counter: number;
  prev: string | null;
}

export type Random = (count: number) => Uint8Array<ArrayBuffer>;
export type Stands = ReadonlyMap<string, StandingRow>;

/** An act to be written, from the ids its entries will have and from what stands. */
export interface ActPlan {
  /** Records whose standing values are looked at; the act is written only while they stand. */
  records: string[];
  count: number;
  build(ids: string[], stands: Stands): ActDraft[] | Promise<ActDraft[]>;
  /** Refuse what would not count, before anything is written. */
  must_count: boolean;
  /** Bytes that are stored with the act, in one transaction. */
  file?: FileToKeep;
  /** What is written, for a tablet that is full. */
  what?: string;
}

export class Writer {
  private chain: Chain;
  /** Called after each act. */
  written: (act: Entry[]) => void = () => {};
  private last: Promise<unknown> = Promise.resolve();

  private constructor(
    private readonly store: BookStore,
    private readonly clock: Clock,
    private readonly device: string,
    private readonly random: Random,
    kept: KeptChain | undefined,
  ) {
    const { last_ms = 0, counter = 0, prev = null } = kept ?? {};
    this.chain = { clock: { writer: newWriter(random(8)), last_ms, counter }, n: 0, prev };
  }

  /** A new writer that goes on where the last one of this browser stopped. */
  static async start(
    store: BookStore,
    clock: Clock,
    device: string,
    random: Random,
  ): Promise<Writer> {
    const kept = await store.read(['meta'], (tx) => tx.objectStore('meta').get(KEY));
    return new Writer(store, clock, device, random, kept as KeptChain | undefined);
  }

  get writer(): string {
    return this.chain.clock.writer;
  }

  newId(): string {
    return [...this.random(16)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  }

  /** Writes one act after the other; resolves when it is on the disk and applied. */
  write(session: Session, plan: ActPlan): Promise<Entry[]> {
    const work = this.last.then(() => this.writeNow(session, plan));
    this.last = work.catch(() => {});
    return work;
  }

  /** Moves the clock past ids that came, in the transaction that takes them in. */
  async received(tx: WriteTransaction, ids: readonly string[]): Promise<void> {
    const now_ms = this.clock.now_ms();
    const before = this.chain.clock;
    const clock = ids.reduce((one, id) => receive(one, id, now_ms), before);
    if (clock === before) return;
    this.chain = { ...this.chain, clock };
    putChain(tx, this.chain);
  }

  private async writeNow(session: Session, plan: ActPlan): Promise<Entry[]> {
    for (let tries = 0; tries < 5; tries += 1) {
      const written = await this.attempt(session, plan);
      if (written) return written;
    }
    throw new Refused(
      'in_motion',
      'The record changed five times while it was written.',
      'Nothing was lost. Do it again.',
    );
  }

  private async attempt(session: Session, plan: ActPlan): Promise<Entry[] | null> {
    const stands = await this.stands(plan.records);
    const now_ms = this.clock.now_ms();
    const start = this.startOf(now_ms);
    const drafts = await plan.build(nextIds(start, now_ms, plan.count), stands);
    const act = this.newId();
    const wall = this.clock.wall();
    const author = { by: session.person, device: this.device, wall, schema: SCHEMA, sha256, act };
    const filled = drafts.map((draft) => fill(draft, stands, session));
    const [chain, written] = await writeAct(start, now_ms, filled, author);
    const arrivals = written.map(([entry, line], at) => {
      // Each entry names the hash of the one before; the chain has the last.
      const sha256 = (written[at + 1]?.[0].prev ?? chain.prev) as string;
      return { entry, line, sha256 };
    });
    const isStored = await this.store.write(
      plan.file ? WITH_FILE : STORES,
      (tx) => this.put(tx, { plan, stands, chain, arrivals }),
      plan.what ?? 'the last entry',
    );
    if (!isStored) return null;
    const clock = later(chain, this.chain);
    this.chain = { ...chain, clock };
    const entries = written.map(([entry]) => entry);
    this.written(entries);
    return entries;
  }

  private async stands(records: readonly string[]): Promise<Stands> {
    if (records.length === 0) return new Map();
    return this.store.read(['standing'], (tx) => readStands(tx, records));
  }

  private startOf(now_ms: number): Chain {
    if (!runsAhead(this.chain.clock, now_ms)) return this.chain;
    return { clock: newClock(newWriter(this.random(8))), n: 0, prev: this.chain.prev };
  }

  private async put(tx: WriteTransaction, work: Work): Promise<boolean> {
    const { plan, stands, chain, arrivals } = work;
    const [first] = arrivals;
    if (plan.records.length > 0) {
      // The store was lost just after it had stored this: it is there.
      if (first && (await tx.objectStore('entries').count(first.entry.id)) > 0) return true;
      if (!isSame(await readStands(tx, plan.records), stands)) return false;
    }
    // The bytes are on their way to the disk while what follows from the entries is worked out.
    const filed = plan.file ? putFile(tx, plan.file) : Promise.resolve();
    unwaited(filed);
    const { verdicts } = await takeIn(tx, arrivals);
    if (plan.must_count) refuseUncounted(arrivals, verdicts);
    const wall_ms = this.clock.raw_ms();
    for (const { entry, line } of arrivals) {
      const { id, record, kind } = entry;
      const row = { id, record, kind, act: actOf(entry), size_bytes: sizeBytes(line), wall_ms };
      unwaited(tx.objectStore('unsent').put(row));
    }
    putChain(tx, chain);
    await filed;
    return true;
  }
}

interface Work {
  plan: ActPlan;
  stands: Stands;
  chain: Chain;
  arrivals: Arrival[];
}

const sha256 = (text: string) => sha256Hex(text, crypto.subtle);

function nextIds(chain: Chain, now_ms: number, count: number): string[] {
  const ids: string[] = [];
  let { clock } = chain;
  for (let at = 0; at < count; at += 1) {
    const [next, id] = tick(clock, now_ms);
    clock = next;
    ids.push(id);
  }
  return ids;
}

function fill(draft: ActDraft, stands: Stands, session: Session): Draft {
  const { record, kind, set, why } = draft;
  const now = (stands.get(record) as unknown as Standing | undefined) ?? null;
  const seen = { ...seenFor(now, Object.keys(set)), ...draft.seen };
  const relies = [...new Set([session.role_entry, ...(draft.relies ?? [])])].filter(Boolean);
  return { record, kind, set, seen, relies, ...(why ? { why: why.normalize('NFC') } : {}) };
}

async function readStands(tx: Transaction, records: readonly string[]): Promise<Stands> {
  const rows = await Promise.all(records.map((one) => tx.objectStore('standing').get(one)));
  return new Map(rows.flatMap((row) => (row ? [[row.record, row] as const] : [])));
}

function isSame(one: Stands, two: Stands): boolean {
  return JSON.stringify([...one]) === JSON.stringify([...two]);
}

function refuseUncounted(
  arrivals: readonly Arrival[],
  verdicts: Awaited<ReturnType<typeof takeIn>>['verdicts'],
): void {
  for (const { entry } of arrivals) {
    const found = verdicts.get(entry.id);
    if (found?.result === 'does not count') {
      throw new Refused(found.code.replaceAll(' ', '_'), found.reason, 'Nothing was written.');
    }
  }
}

function putChain(tx: WriteTransaction, { clock, prev }: Chain): void {
  const kept: KeptChain = { last_ms: clock.last_ms, counter: clock.counter, prev };
  unwaited(tx.objectStore('meta').put(kept, KEY));
}

/** The later clock of two of one writer: a page may have come while an act was written. */
function later({ clock: one }: Chain, { clock: two }: Chain): Chain['clock'] {
  if (one.writer !== two.writer) return one;
  const isLater =
    two.last_ms > one.last_ms || (two.last_ms === one.last_ms && two.counter > one.counter);
  return isLater ? two : one;
}

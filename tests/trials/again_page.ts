// What the page of the trial of a book worked out again runs: it writes a book, and derives it.

import { fieldsToSee } from '../../frontend/src/domain/moves';
import { workOutAgain } from '../../frontend/src/storage/again';
import { BookStore } from '../../frontend/src/storage/database';
import { type Arrival, DERIVED_STORES, takeIn } from '../../frontend/src/storage/derive';
import qs7 from '../../sample_data/skinpin_demo/data/standard_qs7.json';
import { sha256Hex } from '../../sync/typescript/canonical.ts';
import { type Draft, writeAct } from '../../sync/typescript/chain.ts';
import { newClock } from '../../sync/typescript/clock.ts';
import { add, type Standing, seenFor } from '../../sync/typescript/standing.ts';
import { DEFINITION, PLACE } from '../frontend/services/bench';

const PIN = { name: 'QS-7', issue: '1', sha256: '7'.repeat(64) };
const MAP = { name: 'Marram', issue: '1', sha256: '8'.repeat(64) };
const BATCH = 500;
const sha256 = (text: string) => sha256Hex(text, crypto.subtle);
const inches = (value: string) => ({ value, unit: 'in' });

/** One writer's book: each record found, photographed, measured and raised in eight entries. */
class Author {
  private chain = { clock: newClock('trial000'), n: 0, prev: null as string | null };
  private now_ms = Date.UTC(2025, 10, 3);
  private roles: string[] = [];
  readonly written: Arrival[] = [];

  async act(drafts: Draft[]): Promise<string[]> {
    this.now_ms += 1000;
    const act = `act${this.written.length}`;
    const by = {
      act,
      by: 'lead',
      device: 'A',
      wall: '2025-11-03T08:15:30+00:00',
      schema: 1,
      sha256,
    };
    const [chain, written] = await writeAct(this.chain, this.now_ms, drafts, by);
    this.chain = chain;
    for (const [entry, line] of written)
      this.written.push({ entry, line, sha256: await sha256(line) });
    return written.map(([entry]) => entry.id);
  }

  async setUp(): Promise<void> {
    const lead = { name: 'Lead', role: { role: 'lead', from: '2025-01-06' } };
    const book = { workshop: 'Trial', time_zone: 'Europe/London', unit: 'in' };
    const ids = await this.act([
      { record: 'book', kind: 'book', set: { ...book, signatures: 'not yet' } },
      { record: 'lead', kind: 'person', set: lead },
    ]);
    this.roles = ids.slice(1);
    const airframe = { type: 'Marram', constructor: '2603', definition: MAP };
    await this.act([
      { record: 'airframe-1', kind: 'airframe', set: airframe, relies: this.roles },
      { record: 'standard-1', kind: 'standard', set: PIN, relies: this.roles },
    ]);
  }

  async record(at: number): Promise<void> {
    const [record, photograph, relies] = [`d${at}`, `p${at}`, this.roles];
    const number = `A/${String(at + 1).padStart(4, '0')}`;
    const from = this.written.length;
    const defect = (set: Record<string, unknown>) =>
      this.act([{ record, kind: 'defect', set, relies }]);
    const found = { number, airframe: 'airframe-1', place: PLACE, standard: PIN };
    const picture = { defect: record, sha256: await sha256(photograph), size_bytes: 2_500_000 };
    const [, shown] = await this.act([
      { record, kind: 'defect', set: { ...found, state: { move: 'new', to: 'Draft' } }, relies },
      {
        record: photograph,
        kind: 'photograph',
        set: { ...picture, media_type: 'image/jpeg', role: 'close' },
        relies,
      },
    ]);
    await defect({
      kind: 'pitting',
      part: 'bottom plating',
      material: 'AL',
      thickness: inches('0.064'),
    });
    await defect({ depth: inches(`0.0${10 + (at % 40)}`) });
    await defect({ cleaned: 'yes' });
    await defect({ length: inches('0.5'), width: inches('0.25') });
    const ring = { photograph, shape: { kind: 'ring', points: [[at, 9000]] }, struck: false };
    await this.act([{ record: `m${at}`, kind: 'mark', set: ring, relies }]);
    await this.raise(record, [...relies, shown as string], from);
  }

  private async raise(record: string, relies: string[], from: number): Promise<void> {
    const mine = this.written.slice(from).filter(({ entry }) => entry.record === record);
    const now = add(
      null,
      mine.map(({ entry }) => entry),
      () => true,
    ) as Standing;
    const seen = seenFor(now, [...fieldsToSee('raise'), 'state']);
    const set = { state: { move: 'raise', to: 'Raised' } };
    await this.act([{ record, kind: 'defect', set, seen, relies }]);
  }
}

export interface Took {
  entries: number;
  rows: number;
  raised: number;
  graded: number;
  came_ms: number;
  again_ms: number[];
  /** Rows that a book worked out again has otherwise: none. */
  differing: number;
}

/** Takes a book of so many records in as it comes, then works it out again by other rules. */
export async function measure(records: number, runs: number): Promise<Took> {
  const author = new Author();
  await author.setUp();
  for (let at = 0; at < records; at += 1) await author.record(at);
  const store = new BookStore(`trial ${records} ${performance.now()}`);
  const json = (value: unknown) =>
    new TextEncoder().encode(JSON.stringify(value)).buffer as ArrayBuffer;
  await store.write(['files'], async (tx) => {
    await tx.objectStore('files').put(json(qs7), PIN.sha256);
    await tx.objectStore('files').put(json(DEFINITION), MAP.sha256);
  });
  const began_ms = performance.now();
  for (let at = 0; at < author.written.length; at += BATCH) {
    const part = author.written.slice(at, at + BATCH);
    await store.write(DERIVED_STORES, (tx) => takeIn(tx, part));
  }
  const came_ms = performance.now() - began_ms;
  const before = await rowsOf(store);
  const again_ms: number[] = [];
  for (let run = 0; run < runs; run += 1) {
    const start_ms = performance.now();
    await workOutAgain(store, `rules ${run}`);
    again_ms.push(performance.now() - start_ms);
  }
  const after = await rowsOf(store);
  const differing = before.filter((row, at) => JSON.stringify(row) !== JSON.stringify(after[at]));
  const have = (test: (row: Row) => boolean) => after.filter(({ row }) => test(row as Row)).length;
  return {
    ...{ entries: author.written.length, rows: after.length, came_ms, again_ms },
    raised: have(({ state }) => state === 'Raised'),
    graded: have(({ grade }) => grade !== null),
    differing: differing.length,
  };
}

interface Row {
  state: string;
  grade: number | null;
}

const rowsOf = (store: BookStore) => store.read(['rows'], (tx) => tx.objectStore('rows').getAll());

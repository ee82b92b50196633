/** What each person can take back on this browser, worked out from the entries of the book. */

import type { Entry } from '@sync/entry';
import { Refused } from '../domain/errors';
import { type Fields, isFields, stateOf } from '../domain/verdicts';
import type { BookStore } from '../storage/database';
import type { Transaction } from '../storage/schema';
import { pairOf } from '../storage/shelf';
import { ON_PICTURES } from '../storage/waiting';
import type { Clock } from './clock';
import type { ActDraft, Json, Session, Undoable } from './shop';
import { hasMove, type OwnerOf, type Step, stepsOf, TAKEN_BACK, take } from './steps';
import type { Stands, Writer } from './writer';

/** As long as a sign-in lasts: what is older is corrected, not undone. */
const KEPT_MS = 12 * 3_600_000;

const STOPPED = {
  restart: 'A move from before the restart stays.',
  another: 'Somebody else has gone on with it.',
};

export interface UndoHost {
  store: BookStore;
  writer: Writer;
  clock: Clock;
  /** What entries of this browser carry as `device`. */
  device: string;
}

export class UndoLine {
  private steps: Step[] = [];
  private readonly owners = new Map<string, string>();
  private loading: Promise<void> | null = null;
  /** Acts written since, not yet taken up: a key never waits for them. */
  private written: Entry[][] = [];

  constructor(private readonly host: UndoHost) {}

  /** Takes an act up that was written here just now. */
  push(act: Entry[]): void {
    this.written.push(act);
  }

  /** How much this person can take back, and what comes first. */
  async undoable(session: Session, under?: string): Promise<Undoable> {
    await this.catchUp();
    const { mine, stopped } = this.line(session, under);
    const next = mine.at(-1);
    return { steps: mine.length, next: next ? shownStep(next) : null, stopped };
  }

  /** Writes the act that takes the last one back; what was written stays in the history. */
  async undo(session: Session, under?: string): Promise<Entry[]> {
    await this.catchUp();
    const { mine, stopped } = this.line(session, under);
    const step = mine.at(-1);
    if (!step) {
      const hint = 'Correct it with a new entry; the history keeps both.';
      const why = stopped ? ` ${STOPPED[stopped]}` : '';
      throw new Refused('nothing_to_undo', `There is nothing of yours here to undo.${why}`, hint);
    }
    // What it writes comes back by `push` and takes the step off, as it does after a restart.
    return hasMove(step.entries) ? this.undoMove(session, step) : this.back(session, step);
  }

  private readonly ownerOf: OwnerOf = (record) => this.owners.get(record);

  /** This person's steps that can be taken back in turn, the next one last. */
  private line(session: Session, under?: string): { mine: Step[]; stopped: Undoable['stopped'] } {
    const line = under === undefined ? this.steps : this.steps.filter((one) => holds(one, under));
    const since = this.host.clock.now_ms() - KEPT_MS;
    const mine: Step[] = [];
    const others = new Set<string>();
    for (const step of [...line].reverse()) {
      if (msOf(step) < since) break;
      if (step.person !== session.person) {
        for (const record of step.under) others.add(record);
        continue;
      }
      const stopped = this.stops(step, others);
      if (stopped) return { mine, stopped };
      mine.unshift(step);
    }
    return { mine, stopped: null };
  }

  private stops(step: Step, others: ReadonlySet<string>): Undoable['stopped'] {
    if (step.under.some((record) => others.has(record))) return 'another';
    const isOld = hasMove(step.entries) && step.writer !== this.host.writer.writer;
    return isOld ? 'restart' : null;
  }

  private undoMove(session: Session, step: Step): Promise<Entry[]> {
    const move = step.entries.find((entry) => stateOf(entry).move !== undefined) as Entry;
    const { writer, store } = this.host;
    return writer.write(session, {
      records: [move.record],
      count: 1,
      must_count: true,
      build: async () => {
        const was = await store.read(['entries'], (tx) => before(tx, move, 'state'));
        const to = isFields(was) ? ((was.to ?? null) as Json) : null;
        const set = { state: { move: 'undo', to, undoes: move.id } };
        return [{ record: move.record, kind: move.kind, set }];
      },
    });
  }

  private back(session: Session, step: Step): Promise<Entry[]> {
    const { writer, store } = this.host;
    return writer.write(session, {
      records: step.entries.map(({ record }) => record),
      count: step.entries.length,
      must_count: false,
      build: async (_ids, stands) => {
        const drafts = await store.read(['entries'], (tx) =>
          Promise.all(step.entries.map((entry) => backOf(tx, entry, stands))),
        );
        const left = drafts.filter((draft) => draft !== null);
        if (left.length > 0) return left;
        this.steps = this.steps.filter((one) => one !== step);
        const hint = 'Look at the record: what stands there is not yours.';
        throw new Refused('nothing_to_undo', 'It has been changed since by somebody else.', hint);
      },
    });
  }

  private async catchUp(): Promise<void> {
    this.loading ??= this.load();
    await this.loading;
    const acts = this.written.splice(0);
    if (acts.length === 0) return;
    await this.host.store.read(['standing'], (tx) => this.learnOwners(tx, acts.flat()));
    for (const act of acts) {
      const isKnown = this.steps.some((step) => step.entries[0]?.id === act[0]?.id);
      if (!isKnown) take(this.steps, act, this.ownerOf);
    }
  }

  /** Reads what was written here in the last hours; a start of the app forgets nothing. */
  private async load(): Promise<void> {
    const since = String(Math.max(0, this.host.clock.now_ms() - KEPT_MS)).padStart(13, '0');
    await this.host.store.read(['entries', 'standing'], async (tx) => {
      const rows = await tx.objectStore('entries').getAll(IDBKeyRange.lowerBound(since));
      const mine = rows
        .map(pairOf)
        .filter(([{ device }]) => device === this.host.device)
        .filter(([, { result }]) => result !== 'does not count')
        .map(([entry]) => entry);
      await this.learnOwners(tx, mine);
      this.steps = stepsOf(mine, this.ownerOf);
    });
  }

  /** Learns the photographs of marks and the defects of photographs, written or standing. */
  private async learnOwners(tx: Transaction, entries: readonly Entry[]): Promise<void> {
    for (const { record, set } of entries) {
      const named = set.defect ?? set.photograph;
      if (typeof named === 'string') this.owners.set(record, named);
    }
    for (const { record, kind } of entries) {
      if (ON_PICTURES.includes(kind)) await this.learnOwner(tx, record, 'photograph');
      if (kind === 'photograph') await this.learnOwner(tx, record, 'defect');
    }
  }

  private async learnOwner(tx: Transaction, record: string, field: string): Promise<void> {
    if (!this.owners.has(record)) {
      const row = await tx.objectStore('standing').get(record);
      const held = Object.values(row?.values ?? {}).find((one) => typeof one[field] === 'string');
      if (held) this.owners.set(record, held[field] as string);
    }
    const owner = this.owners.get(record);
    if (field === 'photograph' && owner) await this.learnOwner(tx, owner, 'defect');
  }
}

/** What an entry replaced in a field: the first of the values its author had seen. */
async function before(tx: Transaction, entry: Entry, field: string): Promise<Json> {
  const [id] = entry.seen[field] ?? [];
  const row = id === undefined ? undefined : await tx.objectStore('entries').get(id);
  return row ? ((pairOf(row)[0].set[field] ?? null) as Json) : null;
}

/** Puts back what stood before an entry, in the fields where what this author wrote still stands. */
async function backOf(tx: Transaction, entry: Entry, stands: Stands): Promise<ActDraft | null> {
  const { record, kind } = entry;
  const own: Fields[] = [];
  for (const [id, held] of Object.entries(stands.get(record)?.values ?? {})) {
    // What stands may be an earlier undo of the same author: it put back what this entry set.
    const row = id === entry.id ? undefined : await tx.objectStore('entries').get(id);
    const { by, device } = row ? pairOf(row)[0] : entry;
    if (by === entry.by && device === entry.device) own.push(held);
  }
  const fields = Object.keys(entry.set).filter((field) =>
    own.some((held) => Object.hasOwn(held, field)),
  );
  if (fields.length === 0) return null;
  const was = await Promise.all(
    fields.map(async (field) => [field, await before(tx, entry, field)] as const),
  );
  return { record, kind, set: gone(kind, Object.fromEntries(was)), why: TAKEN_BACK };
}

/** A photograph taken back is only taken off its defect: what its bytes are stays true. */
function gone(kind: string, set: Record<string, Json>): Record<string, Json> {
  const isNew = Object.values(set).every((value) => value === null);
  if (!isNew) return set;
  if (kind === 'photograph' && 'defect' in set) return { defect: null };
  // What lies on a photograph is struck out.
  if (ON_PICTURES.includes(kind) && !('struck' in set)) return { struck: true };
  return set;
}

const holds = (step: Step, under: string) => step.under.includes(under);
const msOf = (step: Step) => Number(step.entries[0]?.id.slice(0, 13) ?? 0);

function shownStep(step: Step): NonNullable<Undoable['next']> {
  const [first] = step.entries as [Entry];
  const move = step.entries.map((entry) => stateOf(entry).move).find((one) => one !== undefined);
  return {
    records: step.under,
    kind: first.kind,
    fields: Object.keys(first.set).filter((field) => field !== 'state'),
    move: typeof move === 'string' ? move : null,
    at_ms: msOf(step),
  };
}

/** Moves of a defect: refused with a sentence before anything is written, or written whole. */

import type { Entry } from '@sync/entry';
import { fieldValues, type Standing } from '@sync/standing';
import { Refused } from '../domain/errors';
import { ACCEPT, fieldsToSee, stateWords } from '../domain/moves';
import { MOVES, movesOpen, type Row, rowsFrom } from '../domain/permissions';
import { Look } from '../domain/seen';
import { listFile, stampedIds, stampList } from '../domain/stamps';
import { isFields, knownOf } from '../domain/verdicts';
import type { BookStore } from '../storage/database';
import type { StandingRow, Transaction } from '../storage/schema';
import { pairOf } from '../storage/shelf';
import type { Clock } from './clock';
import type { KeptFiles } from './files';
import type { KeptPeople } from './people';
import type { ActDraft, Json, MoveDetails, Moves, Session, StampWord } from './shop';
import type { Stands, Writer } from './writer';

/** Moves that decide: they wait where the server was not met for 14 days. */
const DECIDING = new Set([
  ...['assess', 'clear', 'accept', 'reject', 're-assess', 'defer', 'same as', 'back'],
  ...['raised in error', 'choose'],
]);
const STAMPED: Readonly<Record<string, StampWord>> = { clear: 'INSPECTED', accept: 'DISPOSITION' };

export interface MovesHost {
  store: BookStore;
  writer: Writer;
  files: KeptFiles;
  people: Pick<KeptPeople, 'confirm'>;
  clock: Clock;
  standardPin(): Json | null;
  refuseDecision(session: Session): void;
}

export class KeptMoves implements Moves {
  constructor(private readonly host: MovesHost) {}

  async open(session: Session, record: string): Promise<string[]> {
    const stand = await this.host.store.read(['standing'], (tx) =>
      tx.objectStore('standing').get(record),
    );
    const open = movesOpen(session.role, statesOf(stand));
    return session.may_decide ? open : open.filter((move) => !DECIDING.has(move));
  }

  raise(session: Session, record: string): Promise<Entry[]> {
    return this.makeMove(session, record, 'raise');
  }

  async makeMove(session: Session, record: string, move: string, details: MoveDetails = {}) {
    if (DECIDING.has(move)) this.host.refuseDecision(session);
    const word = details.stamp ?? STAMPED[move];
    if (word) await this.confirm(session, details.passcode);
    const around = await this.host.store.read(['standing'], (tx) => aroundOf(tx, record));
    const row = rowFor(session, move, statesOf(around.defect));
    const set = await this.setOf(row, details, around.defect);
    const { writer, files } = this.host;
    let list = '';
    return writer.write(session, {
      records: [record, ...around.related.map((one) => one.record)],
      count: word ? 2 : 1,
      must_count: true,
      build: async (ids, stands) => {
        const draft = draftOf(record, move, set, details, stands);
        const drafts = word ? [draft, this.stampDraft(session, word, draft, ids, stands)] : [draft];
        if (word) list = listFile(idsToStamp(draft, ids[0] as string, stands));
        if (list) await files.keep(bytesOf(list), 'text/plain');
        return drafts;
      },
    });
  }

  async decide(
    session: Session,
    record: string,
    set: Record<string, Json>,
    { why, passcode, stamp: word = 'DISPOSITION' }: Pick<MoveDetails, 'why' | 'passcode' | 'stamp'>,
  ) {
    this.host.refuseDecision(session);
    if (!why?.trim()) throw new Refused('no_reason', 'A decision needs its reason.', 'Say why.');
    await this.confirm(session, passcode);
    const around = await this.host.store.read(['standing'], (tx) => aroundOf(tx, record));
    const { writer, files } = this.host;
    return writer.write(session, {
      records: [record, ...around.related.map((one) => one.record)],
      count: 2,
      must_count: true,
      build: async (ids, stands) => {
        const relies = reliedOn(record, stands);
        const draft = { record, kind: 'defect', set, relies, why: why.trim() };
        const stamp = this.stampDraft(session, word, draft, ids, stands);
        const list = listFile(idsToStamp(draft, ids[0] as string, stands));
        await files.keep(bytesOf(list), 'text/plain');
        return [draft, stamp];
      },
    });
  }

  async stamp(session: Session, record: string, word: StampWord, passcode: string, why?: string) {
    this.host.refuseDecision(session);
    await this.confirm(session, passcode);
    const around = await this.host.store.read(['standing'], (tx) => aroundOf(tx, record));
    const { writer, files } = this.host;
    return writer.write(session, {
      records: [record, ...around.related.map((one) => one.record)],
      count: 1,
      must_count: true,
      build: async (ids, stands) => {
        const nothing = { record, kind: 'defect', set: {}, relies: reliedOn(record, stands) };
        const draft = this.stampDraft(session, word, nothing, ids, stands);
        await files.keep(bytesOf(listFile(idsToStamp(nothing, '', stands))), 'text/plain');
        return [{ ...draft, ...(why ? { why } : {}) }];
      },
    });
  }

  private async confirm(session: Session, passcode: string | undefined): Promise<void> {
    if (!session.stamp_number) {
      const hint = 'A lead gives stamp numbers on the people page.';
      throw new Refused('no_stamp', `${session.name} has no stamp number.`, hint);
    }
    if (passcode === undefined) {
      throw new Refused('passcode_asked', 'A stamp needs your passcode afresh.', 'Enter it.');
    }
    await this.host.people.confirm(session, passcode);
  }

  private async setOf(row: Row, details: MoveDetails, defect: StandingRow | undefined) {
    const { move } = row;
    const set: Record<string, Json> = { ...details.set };
    const pins = row.sets_by_itself ?? {};
    const pin = this.host.standardPin();
    const isPinned = valuesOf(defect, 'standard').length > 0;
    if ('standard' in pins && pin && !isPinned) set.standard = pin;
    if (move === 'nil') set.disposition = ACCEPT;
    return { ...set, state: { move, to: await this.endOf(row, details, defect) } };
  }

  /** The state a move leads to; where the table leaves it open: as asked, or as it was left. */
  private async endOf(row: Row, { to }: MoveDetails, defect: StandingRow | undefined) {
    if (row.to !== 'one of them' && !row.to.startsWith('the state')) return row.to;
    if (to !== undefined) return to;
    const left = row.move === 'back' && defect ? await this.leftFrom(defect, row) : [];
    const [only, ...others] = left;
    if (only !== undefined && others.length === 0) return only;
    const choices = left.length > 0 ? ` Choose ${left.map(stateWords).join(' or ')}.` : '';
    throw new Refused('no_end', `“${row.move}” needs the state it leads to.${choices}`, '');
  }

  private leftFrom(defect: StandingRow, row: Row): Promise<string[]> {
    return this.host.store.read(['entries'], async (tx) => {
      const rows = await tx.objectStore('entries').index('record').getAll(defect.record);
      const pairs = new Map(rows.map((one) => [one.id, pairOf(one)] as const));
      const entries = { get: (id: string) => pairs.get(id) ?? null, values: () => pairs.values() };
      const now = Object.keys(fieldValues(defect as unknown as Standing, 'state'));
      const moves = now.flatMap((id) => pairs.get(id)?.[0] ?? []);
      const look = new Look([], knownOf({ entries }));
      return [...look.left(moves, row.from[0] as string)].sort();
    });
  }

  private stampDraft(
    session: Session,
    word: StampWord,
    draft: ActDraft,
    ids: readonly string[],
    stands: Stands,
  ): ActDraft {
    const list = stampList(idsToStamp(draft, ids[0] as string, stands));
    const set = {
      ...{ defect: draft.record, act: word, number: session.stamp_number },
      ...{ person: session.person, date: this.host.clock.today(), list: { ...list } },
    };
    const relies = reliedOn(draft.record, stands);
    return { record: this.host.writer.newId(), kind: 'stamp', set, relies };
  }
}

interface Around {
  defect: StandingRow | undefined;
  related: StandingRow[];
}

/** A defect with its photographs, what lies on them, and its stamps. */
async function aroundOf(tx: Transaction, record: string): Promise<Around> {
  const standing = tx.objectStore('standing');
  const named = standing.index('names');
  const mine = (await named.getAll(record)).filter(({ kind }) => kind !== 'defect');
  const photographs = mine.filter(({ kind }) => kind === 'photograph');
  const lying = await Promise.all(photographs.map((one) => named.getAll(one.record)));
  // A later picture of the same view names a photograph too, and may be another record's.
  const theirs = lying.flat().filter(({ kind }) => kind !== 'photograph');
  const others = new Map([...mine, ...theirs].map((row) => [row.record, row]));
  return { defect: await standing.get(record), related: [...others.values()] };
}

function statesOf(stand: StandingRow | undefined): Set<string> {
  const states = valuesOf(stand, 'state').map((value) => (isFields(value) ? value.to : null));
  return new Set(states.filter((one): one is string => typeof one === 'string'));
}

function valuesOf(stand: StandingRow | undefined, field: string): unknown[] {
  const values = fieldValues((stand as unknown as Standing | undefined) ?? null, field);
  return Object.values(values).filter((value) => value !== null);
}

function rowFor(session: Session, move: string, states: Set<string>): Row {
  const rows = rowsFrom(move, states);
  const from = [...states].map(stateWords).join(' and ') || 'nothing';
  if (rows.length === 0) {
    const open = MOVES.some((row) => row.move === move);
    const message = open ? `“${move}” does not lead from ${from}.` : `There is no move “${move}”.`;
    throw new Refused('not_open', message, 'Nothing was written.');
  }
  const row = rows.find(({ who }) => who.includes(session.role));
  if (row) return row;
  const who = (rows[0] as Row).who.map((role) => role.replaceAll('_', ' ')).join(' or ');
  const role = session.role.replaceAll('_', ' ') || 'person without a role';
  throw new Refused('role', `“${move}” from ${from} is for ${who}, not for a ${role}.`, '');
}

function draftOf(
  record: string,
  move: string,
  set: Record<string, Json>,
  details: MoveDetails,
  stands: Stands,
): ActDraft {
  const stand = stands.get(record) as unknown as Standing | undefined;
  const asked = new Set([...Object.keys(set), ...fieldsToSee(move)]);
  const seen = [...asked].map(
    (field) => [field, Object.keys(fieldValues(stand ?? null, field))] as const,
  );
  return {
    record,
    kind: 'defect',
    set,
    seen: Object.fromEntries(seen.filter(([, ids]) => ids.length > 0)),
    relies: [...reliedOn(record, stands), ...(details.relies ?? [])],
    ...(details.why ? { why: details.why } : {}),
  };
}

/** The entries of photographs, marks and stamps that stand: what a move may rest on. */
function reliedOn(record: string, stands: Stands): string[] {
  const others = [...stands.values()].filter((row) => row.record !== record);
  return others.flatMap((row) => Object.keys(row.values)).sort();
}

/** The ids that stand in stamped fields once the draft is written as the entry `id`. */
function idsToStamp(draft: ActDraft, id: string, stands: Stands): Set<string> {
  const ids = new Set<string>();
  for (const row of stands.values()) {
    const values = row.record === draft.record ? after(row, draft, id) : row.values;
    for (const one of stampedIds(row.kind, values)) ids.add(one);
  }
  return ids;
}

function after(row: StandingRow, draft: ActDraft, id: string): StandingRow['values'] {
  const replaced = new Set(Object.keys(draft.set));
  if (replaced.size === 0) return row.values;
  const left = Object.entries(row.values).map(([one, fields]) => {
    const kept = Object.entries(fields).filter(([field]) => !replaced.has(field));
    return [one, Object.fromEntries(kept)] as const;
  });
  return { ...Object.fromEntries(left), [id]: { ...draft.set } };
}

function bytesOf(text: string): ArrayBuffer {
  return new TextEncoder().encode(text).buffer as ArrayBuffer;
}

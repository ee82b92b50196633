// Verdicts are a function of the set of entries, whatever the order in which they come.

import type { Entry } from '@sync/entry';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isJudged } from '../../frontend/src/domain/fields';
import { judgeAll, type Shelf, settle, WAITING } from '../../frontend/src/domain/ledger';
import { movesOpen, STATES } from '../../frontend/src/domain/permissions';
import {
  actOf,
  COUNTS,
  indexOf,
  type Known,
  knownOf,
  type Pair,
} from '../../frontend/src/domain/verdicts';
import { bookOf, type RowText } from './book';

const ROLES = { lead: 'lead', ada: 'lead', ben: 'inspector', cay: 'fitter' } as const;
type Person = keyof typeof ROLES;
const PEOPLE = Object.keys(ROLES) as Person[];
const GIVEN: Record<string, Record<string, unknown>> = {
  new: { number: 'A/0001', kind: 'pitting', place: { member: 'F6' } },
  raise: { no_photograph: 'lamp failed', kind: 'pitting', place: { member: 'F7' } },
  assess: { disposition: 'Accept as is', reason: 'light' },
  nil: { kind: 'nil', disposition: 'Accept as is' },
  defer: { deferral: { to_stage: 'Stage 2', limit: 'no limit', authority: 'lead' } },
  'same as': { same_as: 'Z' },
};

/** The plainest shelf: everything in one map, every question a walk. */
class MemoryShelf implements Shelf {
  readonly pairs = new Map<string, Pair>();

  add(arrived: readonly Entry[], known: Known): void {
    const changes = settle(arrived, this, known);
    for (const entry of arrived)
      this.pairs.set(entry.id, [entry, isJudged(entry) ? WAITING : COUNTS]);
    for (const { entry, now } of changes.values()) this.pairs.set(entry.id, [entry, now]);
  }

  verdicts() {
    return new Map([...this.pairs].map(([id, [, verdict]]) => [id, verdict]));
  }

  load(ids: readonly string[]) {
    const found = ids.map((id) => this.pairs.get(id));
    const waiting = found.filter((pair) => pair?.[1].plain === 'waits') as Pair[];
    const keys = new Set(waiting.map(([entry]) => actOf(entry)));
    const mates = [...this.pairs].filter(([, [entry]]) => keys.has(actOf(entry)));
    return new Map<string, Pair | null>([
      ...mates,
      ...ids.map((id) => [id, this.pairs.get(id) ?? null] as const),
    ]);
  }

  acts(keys: readonly string[]) {
    const all = [...this.pairs.values()].map(([entry]) => entry);
    return new Map(keys.map((key) => [key, all.filter((entry) => actOf(entry) === key)]));
  }

  indexed(ids: readonly string[]) {
    return this.#judged()
      .filter(([entry, verdict]) => ids.some((id) => indexOf(entry, verdict).has(id)))
      .map(([entry]) => entry);
  }

  person(person: string) {
    return this.#judged().filter(([one]) => one.record === person && one.kind === 'person');
  }

  held(devices: readonly string[]) {
    const held = [...this.pairs.values()].filter(([, verdict]) => verdict.code === 'leaver');
    return held.map(([entry]) => entry).filter((entry) => devices.includes(entry.device));
  }

  #judged(): Pair[] {
    return [...this.pairs.values()].filter(([entry]) => isJudged(entry));
  }
}

function* setUp(): Generator<RowText> {
  const role = (who: Person) => ({ role: { role: ROLES[who], from: '2025-03-01' } });
  const first = { by: 'lead', act: 'set-up', role: null };
  yield { ...first, name: 'book', record: 'book', kind: 'book', set: { workshop: 'Quay Shed' } };
  yield { ...first, name: 'role-lead', record: 'lead', kind: 'person', set: role('lead') };
  for (const who of PEOPLE.slice(1))
    yield { name: `role-${who}`, by: 'lead', record: who, kind: 'person', set: role(who) };
}

/** What chance says for one act; each number is used modulo what there is to choose from. */
const dice = fc.array(fc.nat({ max: 999 }), { minLength: 8, maxLength: 8 });

/** Writes acts of several people on few records, most of them as the rules want. */
class Author {
  readonly rows = [...setUp()];
  readonly states = new Map<string, RowText[]>([
    ['X', []],
    ['Y', []],
  ]);

  write(throws: readonly number[]): void {
    const [kind = 0, who = 0, ...rest] = throws;
    const name = `e${this.rows.length}`;
    const by = PEOPLE[who % 4] as Person;
    const writer = (rest[0] ?? 0) % 2 ? 'tableta1' : 'tabletb1';
    const record = (rest[1] ?? 0) % 2 ? 'X' : 'Y';
    const start = { name, by, writer, device: writer.slice(6, 7).toUpperCase() };
    const some = { ...start, record, kind: 'defect' };
    if (kind % 12 < 7) this.#move(some, rest);
    else if (kind % 12 === 7) this.rows.push({ ...some, set: { stage: 'Stage 1' } });
    else if (kind % 12 === 8) this.#leave(start, rest);
    else if (kind % 12 === 9) this.#confirm(start, rest);
    else if (kind % 12 === 10) this.#nameLater(some, rest);
    else this.#undo(some, rest);
  }

  #move(row: Omit<RowText, 'set'>, [, , back = 0, pick = 0, end = 0, how = 0]: number[]): void {
    const before = this.states.get(row.record) as RowText[];
    const seen = before.slice(
      before.length - 1 - (back % 2),
      before.length - (back % 7 === 6 ? 1 : 0),
    );
    const states = seen.map((one) => String((one.set.state as { to: string }).to));
    const open = movesOpen(
      ROLES[row.by as Person],
      states.filter((to) => to !== 'null'),
    );
    const any = Object.keys(ENDS);
    const choice = pick % 7 === 6 ? any : open;
    const move = choice[end % Math.max(choice.length, 1)] ?? 'assess';
    const to = pick % 11 ? (ENDS[move] ?? states[0]) : STATES[end % STATES.length];
    const made: RowText = { ...row, set: { state: { move, to }, ...GIVEN[move] } };
    if (seen.length > 0) made.seen = { state: seen.map((one) => `@${one.name}`) };
    if (how % 9) made.why = 'a reason';
    if (how % 13 === 12) made.of = 3;
    if (move === 'offer') {
      made.act = row.name;
      const shown = { name: `${row.name}p`, record: `P${row.name}`, kind: 'photograph' };
      this.rows.push({ ...row, ...shown, act: row.name, set: { defect: row.record } });
    }
    this.rows.push(made);
    before.push(made);
  }

  #leave(row: Omit<RowText, 'set' | 'record' | 'kind'>, [, , a = 0, b = 0]: number[]): void {
    const who = PEOPLE[a % 4] as Person;
    const upto = this.rows.filter((_, at) => (at * 7 + b) % 6 === 0).map((one) => `@${one.name}`);
    const role = { role: b % 2 ? null : 'lead', from: '2025-07-01', upto };
    const seen = { role: [`@role-${who}`] };
    this.rows.push({ ...row, record: who, kind: 'person', set: { role }, seen });
  }

  #confirm(row: Omit<RowText, 'set' | 'record' | 'kind'>, [, , a = 0, b = 0]: number[]): void {
    const ids = this.rows.filter((_, at) => (at + b) % 2 === 0).map((one) => `@${one.name}`);
    const record = PEOPLE[a % 4] as Person;
    this.rows.push({ ...row, record, kind: 'person', set: { confirms: ids } });
  }

  #nameLater(row: Omit<RowText, 'set'>, [, , a = 0, b = 0]: number[]): void {
    const later = `@e${this.rows.length - 3 + (a % 7)}`;
    const named = b % 2 ? { relies: [later] } : { seen: { stage: [later] } };
    this.rows.push({ ...row, set: { stage: 'Stage 2' }, ...named });
  }

  #undo(row: Omit<RowText, 'set'>, [, , back = 0]: number[]): void {
    const before = this.states.get(row.record) as RowText[];
    const undone = before[before.length - 1 - (back % 4 === 3 ? 1 : 0)];
    if (!undone) return;
    const past = before.find((one) => `@${one.name}` === undone.seen?.state?.[0]);
    const to = past ? (past.set.state as { to: string }).to : null;
    const { by, writer = 'tableta1' } = undone;
    const state = { move: 'undo', to, undoes: `@${undone.name}` };
    const seen = { state: [`@${before.at(-1)?.name}`] };
    const made = { ...row, by, writer, set: { state }, seen };
    this.rows.push(made);
    before.push(made);
  }
}

const ENDS: Record<string, string> = {
  new: 'Draft',
  raise: 'Raised',
  assess: 'Assessed',
  start: 'In work',
  offer: 'Offered',
  clear: 'Cleared',
  nil: 'Cleared',
  reject: 'In work',
  're-assess': 'Assessed',
  defer: 'Deferred',
  'same as': 'Same as',
  'raised in error': 'Raised in error',
};

function randomBook(throws: readonly number[][]): Entry[] {
  const author = new Author();
  for (const one of throws) author.write(one);
  return bookOf(author.rows).entries;
}

function knownFor(entries: readonly Entry[]): Known {
  const byId = new Map(entries.map((entry) => [entry.id, entry]));
  const reached = (entry: Entry, ends: readonly string[]) =>
    ends.some((id) => id.slice(-8) === entry.id.slice(-8) && entry.n <= (byId.get(id)?.n ?? 0));
  return knownOf({ reached, gradeOf: () => 3 });
}

function* batchesOf(entries: readonly Entry[], order: readonly number[]): Generator<Entry[]> {
  const left = [...entries];
  for (let turn = 0; left.length > 0; turn++) {
    const size = [1, 1, 2, 5][(order[turn % order.length] ?? 0) % 4] ?? 1;
    const batch: Entry[] = [];
    for (let i = 0; i < size && left.length > 0; i++)
      batch.push(...left.splice(((order[(turn + i) % order.length] ?? 0) * 31) % left.length, 1));
    yield batch;
  }
}

const books = fc.array(dice, { minLength: 3, maxLength: 28 });
const orders = fc.array(fc.nat({ max: 999 }), { minLength: 5, maxLength: 40 });

describe('settle', () => {
  it('comes to the verdicts of the whole book in any order of arrival', () => {
    fc.assert(
      fc.property(books, orders, (throws, order) => {
        const entries = randomBook(throws);
        const known = knownFor(entries);
        const shelf = new MemoryShelf();
        for (const batch of batchesOf(entries, order)) {
          shelf.add(batch, known);
          const here = [...shelf.pairs.values()].map(([entry]) => entry);
          if (here.length % 5 === 0)
            expect(shelf.verdicts()).toEqual(judgeAll(here, known).verdicts);
        }
        expect(shelf.verdicts()).toEqual(judgeAll(entries, known).verdicts);
      }),
      { numRuns: 150 },
    );
  });

  it('changes no verdict for captures', () => {
    const row = { by: 'x', record: 'X', kind: 'defect', set: { note: 'a' } };
    const rows = Array.from({ length: 50 }, (_, at) => ({ ...row, name: `c${at}` }));
    expect(settle(bookOf(rows).entries, new MemoryShelf(), knownOf())).toEqual(new Map());
  });
});

describe('random books', () => {
  it('hold every verdict', () => {
    const codes = new Set<string>();
    for (const throws of fc.sample(fc.array(dice, { minLength: 20, maxLength: 28 }), {
      numRuns: 300,
      seed: 11,
    })) {
      const entries = randomBook(throws);
      const { verdicts, withdrawn } = judgeAll(entries, knownFor(entries));
      for (const { result, code } of verdicts.values()) codes.add(`${result} ${code}`);
      if (withdrawn.size > 0) codes.add('withdrawn');
    }
    const waits = ['entries', 'act', 'leaver'].map((code) => `waits ${code}`);
    const not = ['cycle', 'needs', 'field', 'role', 'not open'].map(
      (code) => `does not count ${code}`,
    );
    expect([...codes]).toEqual(expect.arrayContaining([...waits, ...not, 'counts ', 'withdrawn']));
  });
});

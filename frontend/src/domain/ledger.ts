/** Which entries of a book count, kept up as entries arrive, in whatever order they come. */

import type { Entry } from '@sync/entry';
import { isJudged } from './fields';
import { judgeAct } from './judging';
import {
  actOf,
  COUNTS,
  confirmsOf,
  indexOf,
  type Known,
  Needs,
  type Pair,
  type Pairs,
  roleOf,
  unreached,
  type Verdict,
  verdict,
  writerOf,
} from './verdicts';

export const WAITING: Verdict = verdict('waits', 'new', 'Not judged yet.');

/** The key of an act: writer, space, id of the act. */
export type Key = string;

/** Where a book's entries and verdicts lie. Every question is about many things at once. */
export interface Shelf {
  /** Entries by id, null where not here; of those that wait also their whole act. */
  load(ids: readonly string[]): ReadonlyMap<string, Pair | null>;
  /** The entries here of acts. */
  acts(keys: readonly Key[]): ReadonlyMap<Key, readonly Entry[]>;
  /** The judged entries that have one of the ids in their `indexOf`. */
  indexed(ids: readonly string[]): Iterable<Entry>;
  /** The judged entries of a person's record with their verdicts. */
  person(person: string): Iterable<Pair>;
  /** The entries of devices that wait with the code `leaver`. */
  held(devices: readonly string[]): Iterable<Entry>;
}

/** A verdict that changed; `before` is null for an entry that has just arrived. */
export interface Change {
  readonly entry: Entry;
  readonly before: Verdict | null;
  readonly now: Verdict;
}

/** The verdicts of a whole book, and the acts that were undone. */
export interface Judged {
  readonly verdicts: ReadonlyMap<string, Verdict>;
  readonly withdrawn: ReadonlySet<Key>;
}

/** The verdicts that arriving entries make or change, captures left out.

`arrived`: new entries; whether the shelf holds them already does not matter. `known`: the rules at
hand; its entries are not read. `again`: further ids that came or changed, such as the sha256 of a
standard's file. */
export function settle(
  arrived: readonly Entry[],
  shelf: Shelf,
  known: Known,
  again: readonly string[] = [],
): Map<string, Change> {
  return new Round(arrived, shelf, known).run(again);
}

class Round {
  readonly #arrived: ReadonlyMap<string, Entry>;
  readonly #shelf: Shelf;
  readonly #known: Known;
  readonly #pairs = new Map<string, Pair | null>();
  readonly #people = new Map<string, Pair[]>();
  readonly #changes = new Map<string, Change>();
  readonly #acts = new Map<Key, Entry[]>();
  readonly #index = new Map<string, Entry[]>();
  #waiting = new Set<Key>();

  constructor(arrived: readonly Entry[], shelf: Shelf, known: Known) {
    this.#arrived = new Map(arrived.map((entry) => [entry.id, entry]));
    this.#shelf = shelf;
    this.#known = { ...known, entries: this.#pairs, people: this.#people };
    for (const entry of arrived) {
      this.#pairs.set(entry.id, [entry, isJudged(entry) ? WAITING : COUNTS]);
      if (isJudged(entry)) for (const id of indexOf(entry, COUNTS)) push(this.#index, id, entry);
    }
  }

  run(again: readonly string[]): Map<string, Change> {
    const arrived = [...this.#arrived.values()];
    this.#want(arrived);
    const devices = [...new Set(arrived.map((entry) => entry.device))];
    const ids = [...this.#arrived.keys(), ...again, ...devices.map(unreached)];
    this.#want(this.#shelf.indexed(ids));
    this.#want(this.#shelf.held(devices));
    while (this.#waiting.size > 0)
      this.#wantDependents(this.#take().flatMap((act) => this.#judge(act)));
    return this.#changes;
  }

  #want(entries: Iterable<Entry>): void {
    for (const entry of entries) this.#waiting.add(actOf(entry));
  }

  /** The acts to be judged, the earliest first, with what they name brought. */
  #take(): Entry[][] {
    const keys = [...this.#waiting].filter((key) => !this.#acts.has(key));
    const found = new Map(keys.map((key) => [key, new Map<string, Entry>()]));
    for (const [key, act] of this.#shelf.acts(keys))
      for (const one of act) found.get(key)?.set(one.id, one);
    for (const one of this.#arrived.values()) found.get(actOf(one))?.set(one.id, one);
    for (const [key, act] of found) this.#acts.set(key, [...act.values()]);
    const acts = [...this.#waiting].map((key) => this.#acts.get(key) ?? []);
    this.#waiting = new Set();
    const judged = acts.flat().filter(isJudged);
    this.#load(judged.flatMap((one) => [one.id, ...indexOf(one, COUNTS)]));
    return acts.filter((act) => act.some(isJudged)).sort((a, b) => (least(a) < least(b) ? -1 : 1));
  }

  #load(ids: Iterable<string>): void {
    const missing = [...new Set(ids)].filter((id) => !this.#pairs.has(id));
    if (missing.length === 0) return;
    const found = this.#shelf.load(missing);
    for (const id of missing) this.#pairs.set(id, null);
    for (const [id, pair] of found) if (!this.#pairs.get(id)) this.#pairs.set(id, pair);
  }

  #loadPerson(person: string): Pair[] {
    const mine = [...this.#arrived.values()].filter(
      (one) => one.record === person && one.kind === 'person' && isJudged(one),
    );
    const stored = [...this.#shelf.person(person)].map(([entry]) => entry);
    const ids = [...new Set([...stored, ...mine].map((one) => one.id))].sort();
    this.#load(ids);
    const pairs = ids.map((id) => this.#pairs.get(id)).filter((pair) => pair != null);
    this.#people.set(person, pairs);
    return pairs;
  }

  /** Judges an act and returns its entries whose verdict changed. */
  #judge(act: readonly Entry[]): Entry[] {
    for (;;) {
      const verdicts = judgeAct(act, this.#known);
      if (!(verdicts instanceof Needs))
        return act.filter((one) => isJudged(one) && this.#put(one, verdicts.get(one.id)));
      this.#load(verdicts.ids);
      for (const person of verdicts.people) this.#loadPerson(person);
    }
  }

  #put(entry: Entry, now: Verdict | undefined): boolean {
    const before = this.#pairs.get(entry.id)?.[1] ?? WAITING;
    if (now === undefined || isSame(before, now)) return false;
    this.#pairs.set(entry.id, [entry, now]);
    const first = this.#arrived.has(entry.id) ? null : before;
    const earlier = this.#changes.get(entry.id);
    this.#changes.set(entry.id, { entry, before: earlier ? earlier.before : first, now });
    this.#people.delete(entry.record);
    return true;
  }

  /** Takes up again whoever named these, relied on a role they end, or is confirmed. */
  #wantDependents(changed: readonly Entry[]): void {
    if (changed.length === 0) return;
    const people = new Set(changed.filter(roleOf).map((one) => one.record));
    const roles = [...people].flatMap((person) => this.#loadPerson(person).map(([one]) => one));
    const ids = [...new Set([...changed, ...roles.filter(roleOf)].map((one) => one.id))];
    this.#want(this.#shelf.indexed(ids));
    for (const id of ids) this.#want(this.#index.get(id) ?? []);
    const confirmed = changed.flatMap(confirmsOf);
    this.#load(confirmed);
    for (const id of confirmed) {
      const pair = this.#pairs.get(id);
      if (pair) this.#want([pair[0]]);
    }
  }
}

function push(index: Map<string, Entry[]>, id: string, entry: Entry): void {
  const under = index.get(id);
  if (under) under.push(entry);
  else index.set(id, [entry]);
}

function least(act: readonly Entry[]): string {
  return act.map((one) => one.id).sort()[0] ?? '';
}

/** Whether two verdicts say the same. */
export function isSame(a: Verdict, b: Verdict): boolean {
  return (
    a.result === b.result &&
    a.code === b.code &&
    a.reason === b.reason &&
    a.plain === b.plain &&
    a.clean === b.clean &&
    a.withdraws === b.withdraws &&
    a.waits_for.join() === b.waits_for.join()
  );
}

/** The verdicts of a whole book: what `settle` must come to in any order. */
export function judgeAll(entries: Iterable<Entry>, known: Known): Judged {
  const book = [...new Map([...entries].map((one) => [one.id, one])).values()];
  book.sort((a, b) => (a.id < b.id ? -1 : 1));
  const pairs = new Map<string, Pair>();
  const acts = new Map<Key, Entry[]>();
  for (const one of book) {
    pairs.set(one.id, [one, isJudged(one) ? WAITING : COUNTS]);
    acts.set(actOf(one), [...(acts.get(actOf(one)) ?? []), one]);
  }
  const whole: Known = { ...known, entries: wholeOf(pairs), people: peopleOf(book, pairs) };
  const judged = [...acts.values()].filter((act) => act.some(isJudged));
  while (judged.filter((act) => judgeAgain(act, whole, pairs)).length > 0);
  const verdicts = new Map([...pairs].map(([id, [, now]]) => [id, now]));
  return { verdicts, withdrawn: withdrawn(pairs.values()) };
}

/** Judges an act by what is known by now; whether a verdict changed. */
function judgeAgain(act: readonly Entry[], whole: Known, pairs: Map<string, Pair>): boolean {
  const verdicts = judgeAct(act, whole);
  if (verdicts instanceof Needs) throw new Error("A whole book can't lack anything.");
  let changed = false;
  for (const one of act) {
    const now = verdicts.get(one.id) ?? COUNTS;
    if (isSame((pairs.get(one.id) as Pair)[1], now)) continue;
    pairs.set(one.id, [one, now]);
    changed = true;
  }
  return changed;
}

/** All there is: an id that is not here is known not to be. */
function wholeOf(pairs: ReadonlyMap<string, Pair>): Pairs {
  return { get: (id) => pairs.get(id) ?? null, values: () => pairs.values() };
}

function peopleOf(book: readonly Entry[], pairs: ReadonlyMap<string, Pair>): Known['people'] {
  const ids = new Map<string, Entry[]>();
  for (const one of book) if (one.kind === 'person' && isJudged(one)) push(ids, one.record, one);
  return {
    get: (person) => (ids.get(person) ?? []).map((one) => pairs.get(one.id) as Pair),
  };
}

/** The acts that counting undos take back. */
export function withdrawn(pairs: Iterable<Pair>): Set<Key> {
  const taken = [...pairs].filter(([, { withdraws }]) => withdraws !== null);
  return new Set(taken.map(([one, { withdraws }]) => `${writerOf(one)} ${withdraws}`));
}

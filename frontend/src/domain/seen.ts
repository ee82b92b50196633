/** What an author had before them: the entries named in `seen` and `relies`, and the way back. */

import type { Entry } from '@sync/entry';
import { type Known, Missing, NAMES_NOTHING, type Pair, plainlyCounts, stateOf } from './verdicts';

/** One act and what its entries name; nothing else is ever looked at. */
export class Look {
  constructor(
    readonly act: readonly Entry[],
    readonly known: Known,
  ) {}

  /** An entry with its verdict, null where the book has no such entry yet. */
  pair(id: string): Pair | null {
    const pair = this.known.entries.get(id);
    if (pair === undefined) throw new Missing([id]);
    return pair;
  }

  /** The counting entries of the record seen for a field.

  Naming one that does not count names what that one saw. */
  named(entry: Entry, field: string): Entry[] {
    const found = new Map<string, Entry>();
    const passed = new Set<string>();
    const waiting = [...(seenFor(entry, field) ?? [])];
    this.#want(waiting);
    for (let id = waiting.pop(); id !== undefined; id = waiting.pop()) {
      const pair = this.pair(id);
      if (pair === null || passed.has(id) || !isSameRecord(pair[0], entry)) continue;
      passed.add(id);
      const [other, verdict] = pair;
      if (plainlyCounts(other, verdict, field)) {
        if (Object.hasOwn(other.set, field)) found.set(id, other);
      } else if (!NAMES_NOTHING.includes(verdict.code)) {
        waiting.push(...(seenFor(other, field) ?? []));
      }
    }
    return inOrder(found);
  }

  #want(ids: readonly string[]): void {
    const missing = ids.filter((id) => this.known.entries.get(id) === undefined);
    if (missing.length > 0) throw new Missing(missing);
  }

  /** The values of a field, its own or those seen; null is no value. */
  values(entry: Entry, field: string): unknown[] {
    const values = Object.hasOwn(entry.set, field)
      ? [entry.set[field]]
      : this.named(entry, field).map((other) => other.set[field]);
    return values.filter((value) => value !== null);
  }

  /** The ids the act relies on, without its own. */
  reliedIds(): string[] {
    const own = new Set(this.act.map((one) => one.id));
    const ids = new Set(this.act.flatMap((one) => one.relies));
    return [...ids].filter((id) => !own.has(id)).sort();
  }

  /** The counting entries of a kind that the act relies on, and its own. */
  relied(kind: string): Entry[] {
    const ids = this.reliedIds();
    this.#want(ids);
    const found = new Map<string, Entry>();
    for (const one of this.act) if (one.kind === kind) found.set(one.id, one);
    for (const id of ids) {
      const pair = this.pair(id);
      if (pair && pair[0].kind === kind && pair[1].plain === 'counts') found.set(id, pair[0]);
    }
    return inOrder(found);
  }

  /** The moves before the one an undo takes back. */
  undone(undo: Entry): Entry[] {
    const pair = this.pair(stateOf(undo).undoes as string);
    return pair ? this.named(pair[0], 'state') : [];
  }

  /** The moves that hold when every undo is followed back. */
  notUndone(moves: readonly Entry[]): Entry[] {
    return walk(moves, (move) => (stateOf(move).move === 'undo' ? this.undone(move) : null));
  }

  /** The moves that truly led to a state: through undo, back and choose. */
  ledHere(moves: readonly Entry[]): Entry[] {
    return walk(moves, (move) => {
      const { move: word, to } = stateOf(move);
      if (word === 'undo') return this.undone(move);
      if (word === 'back') {
        const aside = this.ledHere(this.named(move, 'state'));
        return aside.flatMap((left) => this.named(left, 'state'));
      }
      if (word !== 'choose') return null;
      return this.named(move, 'state').filter((one) => stateOf(one).to === to);
    });
  }

  /** The moves that led to where a move's state was left from. */
  before(move: Entry): Entry[] {
    const { to } = stateOf(move);
    const led = this.ledHere([move]).filter((one) => stateOf(one).to === to);
    const found = led.flatMap((each) => this.named(each, 'state'));
    return inOrder(new Map(found.map((one) => [one.id, one])));
  }

  /** The states that were left for `into` by these moves. */
  left(moves: readonly Entry[], into: string): Set<string> {
    const states = new Set<string>();
    const passed = new Set<string>();
    const waiting = [...moves];
    for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
      for (const move of this.ledHere([next])) {
        if (passed.has(move.id)) continue;
        passed.add(move.id);
        const before = this.named(move, 'state');
        for (const to of statesOf(before)) if (to !== into) states.add(to);
        waiting.push(...before.filter((one) => stateOf(one).to === into));
      }
    }
    return states;
  }

  /** Who started or offered the work since it was last raised or found again. */
  doers(entry: Entry): Set<string> {
    const people = new Set<string>();
    walk(this.notUndone(this.named(entry, 'state')), (move) => {
      const word = stateOf(move).move;
      if (word === 'start' || word === 'offer') people.add(move.by);
      if (word === 'raise' || word === 'found again') return null;
      return this.notUndone(this.named(move, 'state'));
    });
    return people;
  }
}

const inOrder = (found: ReadonlyMap<string, Entry>): Entry[] =>
  [...found.keys()].sort().map((id) => found.get(id) as Entry);

/** The entries seen for a field. */
function seenFor(entry: Entry, field: string): readonly string[] | undefined {
  return Object.hasOwn(entry.seen, field) ? entry.seen[field] : undefined;
}

/** Follows moves back once each; null keeps a move as an end. */
function walk(moves: readonly Entry[], back: (move: Entry) => readonly Entry[] | null): Entry[] {
  const found = new Map<string, Entry>();
  const passed = new Set<string>();
  const waiting = [...moves];
  for (let move = waiting.pop(); move !== undefined; move = waiting.pop()) {
    if (passed.has(move.id)) continue;
    passed.add(move.id);
    const before = back(move);
    if (before === null) found.set(move.id, move);
    else waiting.push(...before);
  }
  return inOrder(found);
}

/** The different states these moves lead to; the undoing of `new` leads to none. */
export function statesOf(moves: Iterable<Entry>): Set<string> {
  const states = [...moves].map((move) => stateOf(move).to);
  return new Set(states.filter((state) => typeof state === 'string'));
}

/** Whether two entries speak of one record: of another kind, rules are other rules. */
function isSameRecord(one: Entry, other: Entry): boolean {
  return one.record === other.record && one.kind === other.kind;
}

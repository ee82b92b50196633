/** The role an author acts by, and what holds of people who left. */

import type { Entry } from '@sync/entry';
import type { Look } from './seen';
import { actOf, confirmsOf, type Known, Missing, type Pair, roleOf, uptoOf } from './verdicts';

/** Whether an act is the set-up of the book. */
export function createsBook(act: readonly Entry[], root: string | null): boolean {
  return act.some(
    (one) =>
      one.kind === 'book' &&
      one.record === 'book' &&
      Object.keys(one.seen).length === 0 &&
      (root === null || one.id === root),
  );
}

/** The role entries of the author that the act relies on. */
export function roleEntries(look: Look, entry: Entry): Pair[] {
  const pairs = look.reliedIds().map((id) => look.pair(id));
  return pairs.filter(
    (pair): pair is Pair =>
      pair !== null && pair[0].record === entry.by && roleOf(pair[0]) !== null,
  );
}

/** The role an author acts by, or null and a sentence.

The set-up of the book brings the first lead's own. */
export function actingRole(look: Look, entry: Entry): [role: string | null, reason: string] {
  const pairs = roleEntries(look, entry);
  if (pairs.length === 0 && createsBook(look.act, look.known.root)) {
    const own = look.act.find((one) => one.record === entry.by && roleOf(one));
    if (own) return [String(roleOf(own)?.role), ''];
  }
  const [pair] = pairs;
  if (pair === undefined || pairs.length > 1) {
    const many = pair ? 'more than one role entry' : 'no role entry';
    return [null, `It relies on ${many} of its author; one is expected.`];
  }
  const role = roleOf(pair[0])?.role;
  if (pair[1].plain !== 'counts' || typeof role !== 'string') {
    return [null, 'The role entry it relies on gives its author no role.'];
  }
  return [role, ''];
}

/** The counting role entries of a person that follow one, through what they saw. */
export function successors(known: Known, roleEntry: Entry): Pair[] {
  const mine = known.people.get(roleEntry.record);
  if (mine === undefined) throw new Missing([], [roleEntry.record]);
  const found = new Map<string, Pair>();
  for (let size = -1; size !== found.size; ) {
    size = found.size;
    for (const [other, verdict] of mine) {
      const saw = other.seen.role ?? [];
      const follows = saw.includes(roleEntry.id) || saw.some((id) => found.has(id));
      if (follows && roleOf(other) && verdict.plain === 'counts')
        found.set(other.id, [other, verdict]);
    }
  }
  return [...found.values()];
}

/** Whether the role an entry relies on was withdrawn before the entry was made.

A withdrawal works if its author was lead by what it relied on; whether that lead left in turn does
not matter, or two who withdraw each other would undo each other's undoing. */
export function leftBefore(look: Look, entry: Entry): boolean {
  return roleEntries(look, entry).some(([roleEntry]) =>
    successors(look.known, roleEntry).some(
      ([later]) =>
        actOf(later) !== actOf(entry) &&
        Array.isArray(roleOf(later)?.upto) &&
        !look.known.reached(entry, uptoOf(later)),
    ),
  );
}

/** Whether a lead who never left has confirmed an entry on its author's record. */
export function confirmed(known: Known, entry: Entry): boolean {
  const mine = known.people.get(entry.by);
  if (mine === undefined) throw new Missing([], [entry.by]);
  return mine.some(
    ([other, verdict]) =>
      confirmsOf(other).includes(entry.id) && verdict.plain === 'counts' && verdict.clean,
  );
}

/** Whether no role between an author and the first lead was withdrawn before an entry. */
export function clean(look: Look, entry: Entry): boolean {
  return roleEntries(look, entry).every(([, verdict]) => verdict.clean) && !leftBefore(look, entry);
}

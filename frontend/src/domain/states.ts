/** In which state a record counts while stamps, chains and choices are open. */

import type { Entry } from '@sync/entry';
import { Look, statesOf } from './seen';
import { clears, type Stamp, type StampList } from './stamps';
import { standingOf, type Values } from './values';
import { knownOf, type Pair, stateOf } from './verdicts';

export const WORST_FIRST: readonly string[] = [
  'Raised',
  'Assessed',
  'In work',
  'Offered',
  'Deferred',
  'Same as',
  'Raised in error',
  'Cleared',
  'Draft',
];

/** The state a record counts in; `states` are those that stand, to be chosen from.

`own` is the state before chains of *same as* are followed. `holds` says whether the stamps of a
record that stands as cleared hold, null where it does not stand so. */
export interface StandingState {
  readonly state: string | null;
  readonly states: readonly string[];
  readonly own: string | null;
  readonly holds: boolean | null;
}

function byRank(a: string, b: string): number {
  return WORST_FIRST.indexOf(a) - WORST_FIRST.indexOf(b) || (a < b ? -1 : a > b ? 1 : 0);
}

/** The least finished state; Draft only when alone. */
export function worstState(states: Iterable<string>): string | null {
  return [...states].sort(byRank)[0] ?? null;
}

/** The state a record counts in.

`moves`: the entries of the record that set its state, with their verdicts. `stamps`: the record's
stamps that stand. `now`: the list a stamp made now would be made over. `isHidden`: whether another
record leads where this one stands as *Same as*. */
export function standingState(
  values: Values,
  moves: Iterable<Pair>,
  stamps: readonly Stamp[],
  now: StampList,
  isHidden: boolean,
): StandingState {
  const pairs = new Map([...moves].map((pair) => [pair[0].id, pair]));
  const entries = { get: (id: string) => pairs.get(id) ?? null, values: () => pairs.values() };
  const look = new Look([], knownOf({ entries }));
  const here = Object.keys(values)
    .filter((id) => Object.hasOwn(values[id] ?? {}, 'state'))
    .flatMap((id) => pairs.get(id)?.[0] ?? []);
  const asked = standingOf(values, 'independent').includes(true);
  const kinds = standingOf(values, 'kind');
  const holds = (move: Entry) =>
    look
      .ledHere([move])
      .filter((one) => stateOf(one).to === 'Cleared')
      .some((one) => clears(String(stateOf(one).move), stamps, now, kinds, asked, look.doers(one)));
  const own = worstState(counting(look, here, holds, true));
  const cleared = here.filter((move) => stateOf(move).to === 'Cleared');
  return {
    state: isHidden ? own : worstState(counting(look, here, holds, false)),
    states: [...statesOf(here)].sort(byRank),
    own,
    holds: cleared.length > 0 ? cleared.some(holds) : null,
  };
}

/** The states that moves count in: as they stand, or as they were left. */
function counting(
  look: Look,
  moves: readonly Entry[],
  holds: (move: Entry) => boolean,
  isAside: boolean,
): Set<string> {
  const states = new Set<string>();
  const passed = new Set<string>();
  const waiting = [...moves];
  for (let move = waiting.pop(); move !== undefined; move = waiting.pop()) {
    if (passed.has(move.id)) continue;
    passed.add(move.id);
    const { to } = stateOf(move);
    const isLeft = (to === 'Cleared' && !holds(move)) || (to === 'Same as' && !isAside);
    const before = isLeft ? look.before(move) : [];
    if (before.length > 0) waiting.push(...before);
    else if (typeof to === 'string') states.add(to);
  }
  return states;
}

/** Stamps: the list a stamp is made over, and whether it still holds. */

import type { Entry } from '@sync/entry';
import { stampedFields } from './fields';
import { sha256Hex } from './sha256';
import { actOf, type Fields, isFields } from './verdicts';

export const FIRST: readonly string[] = ['INSPECTED', 'RE-INSPECTED'];
export const ACTS: readonly string[] = [...FIRST, 'INDEPENDENT', 'DISPOSITION'];

export interface StampList {
  count: number;
  sha256: string;
}

/** Why a stamp does not hold. */
export type Overtaken = 'changed' | 'measured' | 'lengths' | 'less';

/** A stamp as it was made; `names` holds the ids its act relies on and its act's own. */
export interface Stamp {
  id: string;
  act: string;
  person: string;
  number: string;
  date: string;
  list: StampList | null;
  names: ReadonlySet<string>;
  why: string | null;
}

/** The file a stamp is made over: the ids in order, one a line, each line ended. */
export function listFile(ids: Iterable<string>): string {
  return [...new Set(ids)]
    .sort()
    .map((id) => `${id}\n`)
    .join('');
}

/** The value of a stamp's field `list` for the ids that stand. */
export function stampList(ids: Iterable<string>, sha256 = sha256Hex): StampList {
  const all = new Set(ids);
  return { count: all.size, sha256: sha256(listFile(all)) };
}

/** The ids that stand in a record's stamped fields. */
export function stampedIds(kind: string, values: Readonly<Record<string, Fields>>): Set<string> {
  const stamped = stampedFields(kind);
  const ids = Object.keys(values);
  return new Set(ids.filter((id) => Object.keys(values[id] ?? {}).some((f) => stamped.has(f))));
}

/** Why a stamp does not hold over the ids that stand, null where it does.

"changed": something was written, or taken back, after it; "measured": only scales and lengths on
photographs were, or where lamp and zoom stood; "lengths": it was made without those that stood (a
page of release 1 does not know them, another tablet may not have had them yet); "less": it covers
less than stands in another way. `lying`: the part of the ids that release 1 does not know. */
export function overtaken(
  stamp: Stamp,
  ids: ReadonlySet<string>,
  lying: ReadonlySet<string>,
): Overtaken | null {
  if (isOver(stamp, stampList(ids))) return null;
  const later = [...ids].filter((id) => id > stamp.id && !stamp.names.has(id));
  if (later.length > 0) return later.every((id) => lying.has(id)) ? 'measured' : 'changed';
  const rest = [...ids].filter((id) => !lying.has(id));
  if (isOver(stamp, stampList(rest))) return 'lengths';
  return (stamp.list?.count ?? -1) < ids.size ? 'less' : 'changed';
}

const isOver = ({ list }: Stamp, now: StampList) =>
  list?.count === now.count && list.sha256 === now.sha256;

/** Whether a value is a list stamped: a count and a sha256. */
export function isList(value: unknown): value is StampList {
  if (!isFields(value) || Object.keys(value).sort().join() !== 'count,sha256') return false;
  return Number.isInteger(value.count) && typeof value.sha256 === 'string';
}

/** The stamp an entry makes; `act` holds the entries made with it. */
export function stampOf(entry: Entry, act: readonly Entry[] = []): Stamp {
  const text = (field: string) => {
    const value = entry.set[field];
    return typeof value === 'string' ? value : '';
  };
  const mates = act.filter((one) => actOf(one) === actOf(entry) && one.id !== entry.id);
  return {
    id: entry.id,
    act: text('act'),
    person: text('person'),
    number: text('number'),
    date: text('date'),
    list: isList(entry.set.list) ? entry.set.list : null,
    names: new Set([...entry.relies, ...mates.map((one) => one.id)]),
    why: entry.why,
  };
}

const byId = (a: Stamp, b: Stamp): number => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);

/** The stamps by which a clearance holds: one or a pair first, then the others; empty: none hold.

`now` is the list that stands; a stamp over any other has been overtaken. Where an independent
inspection is asked the pair with the smallest ids leads. */
export function holding(
  stamps: Iterable<Stamp>,
  now: StampList,
  independent = false,
  doers: ReadonlySet<string> = new Set(),
  first: readonly string[] = FIRST,
): Stamp[] {
  const good = [...stamps]
    .filter((one) => isOver(one, now))
    .filter((one) => !doers.has(one.person))
    .sort(byId);
  let leads = good.filter((one) => first.includes(one.act)).map((one) => [one]);
  if (independent)
    leads = leads.flatMap(([one]) =>
      good.filter((two) => isSecond(one as Stamp, two)).map((two) => [one as Stamp, two]),
    );
  const lead = leads[0];
  return lead ? [...lead, ...good.filter((one) => !lead.includes(one))] : [];
}

/** Whether a stamp is a second one: it relied on the first and is another person's.

A re-inspection by the same person serves with its reason, and prints as such. */
export function isSecond(first: Stamp, second: Stamp): boolean {
  if (!second.names.has(first.id)) return false;
  if (second.act === 'RE-INSPECTED') return first.act === 'INSPECTED' && Boolean(second.why);
  return second.act === 'INDEPENDENT' && first.person !== second.person;
}

/** Whether a record cleared by this move still is, with what stands now. */
export function clears(
  move: string,
  stamps: readonly Stamp[],
  now: StampList,
  kinds: readonly unknown[],
  independent: boolean,
  doers: ReadonlySet<string>,
): boolean {
  if (move === 'nil') return kinds.length > 0 && kinds.every((kind) => kind === 'nil');
  if (move === 'accept') return holding(stamps, now, false, new Set(), ['DISPOSITION']).length > 0;
  return holding(stamps, now, independent, doers).length > 0;
}

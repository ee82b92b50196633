// Standing values: what of a record holds now, as a function of the set of its entries.
// A value stands until an author who saw it sets the field again. Ids are never compared, so no
// clock decides anything; authors who did not see each other both stand.

import type { Entry, Fields } from './entry.ts';
import { grouped } from './grouped.ts';

/** Whether an entry counts; a set names the fields that do. */
export type Counted = boolean | ReadonlySet<string>;
export type Counts = (entry: Entry) => Counted;
export type Values = Readonly<Record<string, Fields>>;

/** An id named in `seen` that is left out: itself, elsewhere or cycle. */
export type Fault = readonly [what: string, id: string, field: string, other: string];

/** What stands of a record, by entry; ids named but not here; what was left out. */
export interface Standing {
  readonly values: Values;
  readonly awaited: readonly string[];
  readonly faults: readonly Fault[];
}

type Here = ReadonlyMap<string, readonly [entry: Entry, counted: Counted]>;
type Edges = ReadonlyMap<string, readonly string[]>;
type Leave = (...fault: Fault) => void;

/** What stands of one record from all its entries; `elsewhere`: ids of other records' entries. */
export function standing(
  entries: Iterable<Entry>,
  counts: Counts,
  elsewhere: ReadonlySet<string> = new Set(),
): Standing {
  const here = new Map([...entries].map((entry) => [entry.id, [entry, counts(entry)] as const]));
  const values: Record<string, Record<string, unknown>> = {};
  const faults = new Set<string>();
  const awaited = new Set<string>();
  const leave: Leave = (...fault) => faults.add(fault.join(' ')); // No name and no id has a space.
  const set = [...here.values()].flatMap(([entry, counted]) =>
    Object.keys(countingFields(entry, counted)).map((field) => [field, entry] as const),
  );
  for (const [field, setters] of grouped(set))
    for (const entry of stands(field, setters, here, leave)) {
      values[entry.id] ??= {};
      (values[entry.id] as Record<string, unknown>)[field] = entry.set[field];
    }
  for (const [entry] of here.values())
    for (const [field, ids] of Object.entries(entry.seen))
      for (const id of ids)
        if (elsewhere.has(id)) leave('elsewhere', entry.id, field, id);
        else if (!here.has(id)) awaited.add(id);
  const told = [...faults].sort().map((fault) => fault.split(' ') as unknown as Fault);
  return { values, awaited: [...awaited].sort(), faults: told };
}

/** Whether an entry counts for a field. */
export const countsFor = (counted: Counted, field: string): boolean =>
  typeof counted === 'boolean' ? counted : counted.has(field);

const countingFields = (entry: Entry, counted: Counted): Fields =>
  counted === true
    ? entry.set
    : Object.fromEntries(Object.entries(entry.set).filter(([f]) => countsFor(counted, f)));

/** Of the entries that set a field and count for it those that no entry of another group names. */
function stands(field: string, setters: readonly Entry[], here: Here, leave: Leave): Entry[] {
  const edges = namings(field, setters, here);
  const loopOf = new Map(loops(edges).flatMap((loop) => loop.map((id) => [id, loop[0]] as const)));
  const groupOf = (id: string) => loopOf.get(id) ?? id;
  const ids = new Set(setters.map(({ id }) => id));
  const named = namedBy(ids, edges, groupOf);
  for (const id of ids)
    for (const other of edges.get(id) ?? [])
      if (other === id) leave('itself', id, field, id);
      else if (groupOf(other) === groupOf(id)) leave('cycle', id, field, other);
  return setters.filter(({ id }) => [...(named.get(id) ?? [])].every((by) => by === groupOf(id)));
}

/** What the setters of a field name for it, and what the entries name that do not count for it. */
function namings(field: string, setters: readonly Entry[], here: Here): Edges {
  const edges = new Map<string, readonly string[]>();
  const waiting = [...setters];
  for (let entry = waiting.pop(); entry; entry = waiting.pop()) {
    if (edges.has(entry.id)) continue;
    const ids: string[] = [];
    for (const id of Object.hasOwn(entry.seen, field) ? (entry.seen[field] ?? []) : []) {
      const [other, counted = true] = here.get(id) ?? [];
      if (!other || (countsFor(counted, field) && !Object.hasOwn(other.set, field))) continue;
      ids.push(id);
      waiting.push(other);
    }
    edges.set(entry.id, ids);
  }
  return edges;
}

/** Up to two of the groups whose setters name an entry, through entries that do not count. */
function namedBy(setters: ReadonlySet<string>, edges: Edges, groupOf: (id: string) => string) {
  const found = new Map<string, Set<string>>();
  const waiting = [...setters].map((id) => [id, groupOf(id)] as const);
  for (let step = waiting.pop(); step; step = waiting.pop()) {
    const [id, group] = step;
    for (const other of edges.get(id) ?? []) {
      const groups = found.get(other) ?? new Set<string>();
      if (groups.size > 1 || groups.has(group)) continue;
      found.set(other, groups.add(group));
      if (!setters.has(other)) waiting.push([other, group]);
    }
  }
  return found;
}

/**
 * The groups of two or more nodes that reach each other. Sharir, "A strong-connectivity algorithm
 * and its applications in data flow analysis", Computers & Mathematics with Applications 7 (1981).
 */
export function loops(edges: Edges): string[][] {
  // Most writers name older ids alone, and what only leads downwards never comes back.
  if ([...edges].every(([node, others]) => others.every((other) => other < node))) return [];
  const pairs = [...edges].flatMap(([node, others]) => others.map((one) => [one, node] as const));
  const left = walk(edges, edges.keys()).flat();
  const groups = walk(grouped(pairs), left.reverse()).map((group) => group.sort());
  return groups.filter((group) => group.length > 1).sort(([a = ''], [b = '']) => (a < b ? -1 : 1));
}

/** What a depth-first walk newly reaches from each start, in the order in which it leaves it. */
function walk(edges: Edges, starts: Iterable<string>): string[][] {
  const entered = new Set<string>();
  return [...starts].map((start) => {
    const left: string[] = [];
    const waiting = [{ node: start, isDone: false }];
    for (let step = waiting.pop(); step; step = waiting.pop()) {
      const { node, isDone } = step;
      if (isDone) left.push(node);
      if (isDone || entered.has(node)) continue;
      entered.add(node);
      waiting.push({ node, isDone: true });
      for (const other of edges.get(node) ?? []) waiting.push({ node: other, isDone: false });
    }
    return left;
  });
}

/**
 * What stands after new entries of one record, or null: work it out with `standing`. Sure only
 * while every id an entry names still stands and nobody named the entry before it came. An entry
 * that was in the log before must not be handed in again.
 */
export function add(
  before: Standing | null,
  newEntries: readonly Entry[],
  counts: Counts,
): Standing | null {
  const now = before ?? { values: {}, awaited: [], faults: [] };
  const values: Record<string, Fields> = { ...now.values };
  for (const entry of newEntries) {
    if (now.awaited.includes(entry.id) || Object.hasOwn(values, entry.id)) return null;
    const fields = countingFields(entry, counts(entry));
    for (const [field, ids] of Object.entries(entry.seen))
      for (const id of new Set(ids)) {
        const held = values[id];
        const isSet = Object.hasOwn(fields, field);
        if (!held || (isSet && !Object.hasOwn(held, field))) return null;
        if (isSet) values[id] = without(held, field);
      }
    if (Object.keys(fields).length > 0) values[entry.id] = fields;
  }
  const left = Object.entries(values).filter(([, fields]) => Object.keys(fields).length > 0);
  return { ...now, values: Object.fromEntries(left) };
}

const without = (fields: Fields, field: string): Fields =>
  Object.fromEntries(Object.entries(fields).filter(([one]) => one !== field));

/** What an author of these fields has seen: the ids that stand for each. */
export function seenFor(now: Standing | null, fields: Iterable<string>): Record<string, string[]> {
  const seen = [...fields].map((field) => [field, Object.keys(fieldValues(now, field))] as const);
  return Object.fromEntries(seen.filter(([, ids]) => ids.length > 0));
}

/** The values that stand for a field, by entry. */
export function fieldValues(now: Standing | null, field: string): Record<string, unknown> {
  const pairs = Object.entries(now?.values ?? {}).filter(([, set]) => Object.hasOwn(set, field));
  const sorted = pairs.sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(sorted.map(([id, set]) => [id, set[field]]));
}

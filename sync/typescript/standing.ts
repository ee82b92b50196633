// Standing values: what of a record holds now, as a function of the set of its entries.
// A value stands until an author who saw it sets the field again. Ids are never compared, so no
// clock decides anything; authors who did not see each other both stand.

import type { Entry, Fields } from './entry.ts';

/** Whether an entry counts; a set names the fields that do. */
export type Counted = boolean | ReadonlySet<string>;
export type Counts = (entry: Entry) => Counted;
export type Values = Readonly<Record<string, Fields>>;

/** An id named in `seen` that is left out. */
export type Fault = readonly [
  what: 'itself' | 'elsewhere' | 'cycle',
  id: string,
  field: string,
  other: string,
];

/** What stands of a record, by entry; ids named but not here; what was left out. */
export interface Standing {
  readonly values: Values;
  readonly awaited: readonly string[];
  readonly faults: readonly Fault[];
}

type Here = ReadonlyMap<string, readonly [entry: Entry, counted: Counted]>;
type Edges = ReadonlyMap<string, Iterable<string>>;

/** What stands of one record from all its entries; `elsewhere`: ids of other records' entries. */
export function standing(
  entries: Iterable<Entry>,
  counts: Counts,
  elsewhere: ReadonlySet<string> = new Set(),
): Standing {
  const here = new Map([...entries].map((entry) => [entry.id, [entry, counts(entry)] as const]));
  const values: Record<string, Record<string, unknown>> = {};
  const faults = new Map<string, Fault>();
  const awaited = new Set<string>();
  const leave: Leave = (...fault) => faults.set(JSON.stringify(fault), fault);
  for (const field of new Set([...here.values()].flatMap(([entry]) => Object.keys(entry.set))))
    for (const entry of stands(field, here, leave)) {
      values[entry.id] ??= {};
      (values[entry.id] as Record<string, unknown>)[field] = entry.set[field];
    }
  for (const [entry] of here.values())
    for (const [field, ids] of Object.entries(entry.seen))
      for (const id of ids)
        if (elsewhere.has(id)) leave('elsewhere', entry.id, field, id);
        else if (!here.has(id)) awaited.add(id);
  return { values, awaited: [...awaited].sort(), faults: [...faults.values()].sort(byText) };
}

type Leave = (...fault: Fault) => void;

function byText(a: Fault, b: Fault): number {
  const at = a.findIndex((part, place) => part !== b[place]);
  return at < 0 ? 0 : (a[at] as string) < (b[at] as string) ? -1 : 1;
}

/** Whether an entry counts for a field. */
export const countsFor = (counted: Counted, field: string): boolean =>
  typeof counted === 'boolean' ? counted : counted.has(field);

function stands(field: string, here: Here, leave: Leave): Entry[] {
  const setters = [...here.values()]
    .filter(([entry, counted]) => Object.hasOwn(entry.set, field) && countsFor(counted, field))
    .map(([entry]) => entry);
  const edges = new Map(setters.map((entry) => [entry.id, named(field, entry, here)]));
  const loopOf = new Map(loops(edges).flatMap((loop, at) => loop.map((id) => [id, at] as const)));
  const retired = new Set<string>();
  for (const [id, others] of edges)
    for (const other of others)
      if (other === id) leave('itself', id, field, other);
      else if (loopOf.has(id) && loopOf.get(id) === loopOf.get(other))
        leave('cycle', id, field, other);
      else retired.add(other);
  return setters.filter((entry) => !retired.has(entry.id));
}

const seenOf = (entry: Entry, field: string): readonly string[] =>
  Object.hasOwn(entry.seen, field) ? (entry.seen[field] ?? []) : [];

/** The counting setters an entry names, through entries that do not count. */
function named(field: string, entry: Entry, here: Here): Set<string> {
  const found = new Set<string>();
  const passed = new Set<string>();
  const waiting = [...seenOf(entry, field)];
  for (let id = waiting.pop(); id !== undefined; id = waiting.pop()) {
    const [other, counted] = here.get(id) ?? [];
    if (other === undefined || counted === undefined) continue;
    if (countsFor(counted, field)) {
      if (Object.hasOwn(other.set, field)) found.add(id);
    } else if (!passed.has(id)) {
      passed.add(id);
      waiting.push(...seenOf(other, field));
    }
  }
  return found;
}

/**
 * The groups of two or more nodes that reach each other. Sharir, "A strong-connectivity algorithm
 * and its applications in data flow analysis", Computers & Mathematics with Applications 7 (1981).
 */
export function loops(edges: Edges): string[][] {
  const back = new Map<string, string[]>();
  for (const [node, others] of edges)
    for (const other of others) {
      const nodes = back.get(other);
      if (nodes) nodes.push(node);
      else back.set(other, [node]);
    }
  const found: string[][] = [];
  const taken = new Set<string>();
  for (const start of finished(edges).reverse()) {
    const group: string[] = [];
    const waiting = [start];
    for (let node = waiting.pop(); node !== undefined; node = waiting.pop()) {
      if (taken.has(node)) continue;
      taken.add(node);
      group.push(node);
      waiting.push(...(back.get(node) ?? []));
    }
    if (group.length > 1) found.push(group.sort());
  }
  return found.sort((a, b) => ((a[0] ?? '') < (b[0] ?? '') ? -1 : 1));
}

/** The nodes in the order in which a depth-first walk leaves them. */
function finished(edges: Edges): string[] {
  const order: string[] = [];
  const entered = new Set<string>();
  const waiting: (readonly [node: string, isLeft: boolean])[] = [];
  for (const start of edges.keys()) {
    waiting.push([start, false]);
    for (let step = waiting.pop(); step !== undefined; step = waiting.pop()) {
      const [node, isLeft] = step;
      if (isLeft) order.push(node);
      else if (!entered.has(node)) {
        entered.add(node);
        waiting.push([node, true]);
        for (const other of edges.get(node) ?? []) waiting.push([other, false]);
      }
    }
  }
  return order;
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
      if (!retire(values, field, ids, Object.hasOwn(fields, field))) return null;
    if (Object.keys(fields).length > 0) values[entry.id] = fields;
  }
  const left = Object.entries(values).filter(([, fields]) => Object.keys(fields).length > 0);
  return { ...now, values: Object.fromEntries(left) };
}

const without = (fields: Fields, field: string): Fields =>
  Object.fromEntries(Object.entries(fields).filter(([one]) => one !== field));

const countingFields = (entry: Entry, counted: Counted): Fields =>
  counted === true
    ? entry.set
    : Object.fromEntries(Object.entries(entry.set).filter(([f]) => countsFor(counted, f)));

/** Take the named ids' values of a field away; say whether each of them was surely here. */
function retire(
  values: Record<string, Fields>,
  field: string,
  ids: readonly string[],
  isSet: boolean,
): boolean {
  for (const id of new Set(ids)) {
    const fields = values[id];
    if (fields === undefined || (isSet && !Object.hasOwn(fields, field))) return false;
    if (isSet) values[id] = without(fields, field);
  }
  return true;
}

/** What an author of these fields has seen: the ids that stand for each. */
export function seenFor(now: Standing | null, fields: Iterable<string>): Record<string, string[]> {
  const seen = [...fields].map((field) => [field, Object.keys(fieldValues(now, field))] as const);
  return Object.fromEntries(seen.filter(([, ids]) => ids.length > 0));
}

/** The values that stand for a field, by entry. */
export function fieldValues(now: Standing | null, field: string): Record<string, unknown> {
  const pairs = Object.entries(now?.values ?? {}).filter(([, set]) => Object.hasOwn(set, field));
  return Object.fromEntries(
    pairs.map(([id, set]) => [id, set[field]] as const).sort(([a], [b]) => (a < b ? -1 : 1)),
  );
}

/** The different values with their entries: one is settled, several want a choice. */
export function settled<T>(
  values: Readonly<Record<string, T>>,
  equal: (a: T, b: T) => boolean,
): [value: T, ids: string[]][] {
  const groups: [T, string[]][] = [];
  for (const id of Object.keys(values).sort()) {
    const value = values[id] as T;
    const group = groups.find(([one]) => equal(one, value));
    if (group) group[1].push(id);
    else groups.push([value, [id]]);
  }
  return groups;
}

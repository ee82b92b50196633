/** Which record of several that are the same defect leads. */

import { readNumber } from './numbers';

const NO_HEAD: readonly (string | null)[] = [null, 'Draft', 'Raised in error'];

/** What a chain asks of a record: its number, its state before chains, what it is the same as.

`left` is the state it counts in where it is not hidden. */
export interface Other {
  number: string;
  state: string | null;
  targets: readonly string[];
  left: string | null;
}

export type Others = Readonly<Record<string, Other>>;

/** What a chain asks of a record, from its row. */
export function otherOf(row: {
  number: string | null;
  own_state: string | null;
  same_as_all: readonly string[];
  left_from: string | null;
  state: string | null;
}): Other {
  return {
    number: row.number ?? '',
    state: row.own_state,
    targets: row.same_as_all,
    left: row.left_from ?? row.state,
  };
}

/** For each record that is the same as another the record that leads.

null where no record can: a chain that ends nowhere, at a draft, at a record raised in error, or
divides. The smallest number leads a ring and is its own head. */
export function sameAsHeads(others: Others): Map<string, string | null> {
  const aside = Object.keys(others).filter((record) => others[record]?.state === 'Same as');
  return new Map(aside.map((record) => [record, headOf(record, others)]));
}

const otherIn = (others: Others, record: string): Other | undefined =>
  Object.hasOwn(others, record) ? others[record] : undefined;

/** The record that leads the chain of a record. */
export function headOf(record: string, others: Others): string | null {
  const chain = [record];
  for (;;) {
    const last = chain.at(-1) as string;
    const here = otherIn(others, last);
    if (here === undefined) return null;
    if (here.state !== 'Same as') return NO_HEAD.includes(here.state) ? null : last;
    const [next, second] = here.targets;
    if (next === undefined || second !== undefined) return null;
    if (chain.includes(next)) return ringHead(record, chain.slice(chain.indexOf(next)), others);
    chain.push(next);
  }
}

function ringHead(record: string, ring: readonly string[], others: Others): string | null {
  const numberIn = (one: string) => otherIn(others, one)?.number ?? '';
  const [lead] = [...ring].sort(
    (a, b) => byNumber(numberIn(a), numberIn(b)) || (a < b ? -1 : a > b ? 1 : 0),
  );
  if (lead === undefined || lead === record) return record;
  return NO_HEAD.includes(otherIn(others, lead)?.left ?? null) ? null : lead;
}

/** The next record that a chain needs and that is not among those given. */
export function chainLacks(record: string, others: Others): string[] {
  const passed = new Set<string>();
  for (let here: string | undefined = record; here !== undefined && !passed.has(here); ) {
    const other = otherIn(others, here);
    if (other === undefined) return [here];
    passed.add(here);
    const isLink = other.state === 'Same as' && other.targets.length === 1;
    here = isLink ? other.targets[0] : undefined;
  }
  return [];
}

/** Puts numbers in order: A/0002, B/0001, AA/0001; what is no number after them. */
export function byNumber(a: string, b: string): number {
  const [one, two] = [numberKey(a), numberKey(b)];
  for (const [at, part] of one.entries()) {
    const other = two[at] as typeof part;
    if (part !== other) return part < other ? -1 : 1;
  }
  return 0;
}

function numberKey(number: string): [number, string, number, string] {
  try {
    const [letter, serial] = readNumber(number);
    return [letter.length, letter, serial, ''];
  } catch {
    return [99, '', 0, number];
  }
}

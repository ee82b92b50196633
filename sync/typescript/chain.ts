// Chains: what a writer writes one after the other, and whether it is all there unchanged.

import type { Sha256 } from './canonical.ts';
import { type Clock, tick } from './clock.ts';
import {
  type Entry,
  type Fields,
  makeEntry,
  type Seen,
  type Sig,
  toLine,
  wrongShape,
} from './entry.ts';

/** What a person wants written about one record. */
export interface Draft {
  readonly record: string;
  readonly kind: string;
  readonly set: Fields;
  readonly seen?: Seen;
  readonly relies?: readonly string[];
  readonly why?: string | null;
  readonly signed?: boolean;
}

/** A writer's clock, and the number and SHA-256 of its last entry. */
export interface Chain {
  readonly clock: Clock;
  readonly n: number;
  readonly prev: string | null;
}

export interface ActFields {
  readonly act: string;
  readonly by: string;
  readonly device: string;
  readonly wall: string;
  readonly schema: number;
  readonly sha256: Sha256;
  readonly sign?: (text: string) => Promise<Sig>;
}

export type Written = readonly [entry: Entry, line: string];

/** The chain after an act, and the act's entries with their lines. */
export async function writeAct(
  start: Chain,
  now_ms: number,
  drafts: readonly Draft[],
  { act, sha256, sign, ...author }: ActFields,
): Promise<[Chain, Written[]]> {
  if (new Set(drafts.map((draft) => draft.record)).size !== drafts.length)
    throw wrongShape('An act holds at most one entry a record; put the fields together.');
  let chain = start;
  const written: Written[] = [];
  for (const { signed, seen, ...draft } of drafts) {
    const [clock, id] = tick(chain.clock, now_ms);
    const place = { id, n: chain.n + 1, prev: chain.prev, act: { id: act, of: drafts.length } };
    const looked = Object.entries(seen ?? {}).filter(([, ids]) => ids.length > 0);
    let entry = makeEntry({ ...draft, ...place, ...author, seen: Object.fromEntries(looked) });
    if (signed && sign) entry = makeEntry({ ...entry, sig: await sign(toLine(entry)) });
    const line = toLine(entry);
    written.push([entry, line]);
    chain = { clock, n: entry.n, prev: await sha256(line) };
  }
  return [chain, written];
}

/** What a chain check needs of an entry; of a refused one prev and device are unknown. */
export interface Link {
  readonly id: string;
  readonly n: number;
  readonly prev: string | null;
  readonly sha256: string;
  readonly device: string | null;
}

/** A place where a writer's entries do not follow each other. */
export interface ChainFault {
  readonly what: 'changed' | 'gap' | 'no_start' | 'same_n' | 'wrong_prev';
  readonly writer: string;
  readonly n: number;
  readonly id: string;
}

/** Faults of all chains, and the forks: groups of first entries that name one entry. */
export interface Chains {
  readonly faults: ChainFault[];
  readonly forks: string[][];
}

/** The link of an entry whose line has this SHA-256. */
export const link = ({ id, n, prev, device }: Entry, sha256: string): Link => ({
  id,
  n,
  prev,
  sha256,
  device,
});

const inOrder = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
const fault = (what: ChainFault['what'], { id, n }: Link): ChainFault => ({
  what,
  writer: id.slice(-8),
  n,
  id,
});

function gather<K, V>(groups: Map<K, V[]>, key: K, value: V): void {
  const group = groups.get(key);
  if (group) group.push(value);
  else groups.set(key, [value]);
}

/**
 * Where chains have gaps, changes and forks. Refused entries stand in as links; `kept` holds the
 * SHA-256 each id had on arrival.
 */
export function chainFaults(
  links: readonly Link[],
  refused: readonly Link[] = [],
  kept: Readonly<Record<string, string>> = {},
): Chains {
  const all = [
    ...new Map([...links, ...refused].map((one) => [JSON.stringify(one), one])).values(),
  ];
  all.sort((a, b) => a.n - b.n || inOrder(a.id, b.id) || inOrder(a.sha256, b.sha256));
  const writers = new Map<string, Link[]>();
  const starts = new Map<string, string[]>();
  for (const one of all) {
    gather(writers, one.id.slice(-8), one);
    if (one.n === 1 && one.prev) gather(starts, one.prev, one.id);
  }
  const everywhere = new Set(all.map((one) => one.sha256));
  const faults = links
    .filter((one) => (kept[one.id] ?? one.sha256) !== one.sha256)
    .map((one) => fault('changed', one));
  for (const chain of writers.values()) faults.push(...writerFaults(chain, everywhere));
  faults.sort(
    (a, b) =>
      inOrder(a.what, b.what) || inOrder(a.writer, b.writer) || a.n - b.n || inOrder(a.id, b.id),
  );
  const forks = [...starts.values()].filter((ids) => ids.length > 1);
  return { faults, forks: forks.sort((a, b) => inOrder(a[0] ?? '', b[0] ?? '')) };
}

function* writerFaults(
  chain: readonly Link[],
  everywhere: ReadonlySet<string>,
): Generator<ChainFault> {
  const at = new Map<number, string[]>();
  for (const one of chain) {
    if (at.has(one.n)) yield fault('same_n', one);
    gather(at, one.n, one.sha256);
    const before = at.get(one.n - 1);
    if (one.n > 1 && !before) yield fault('gap', one);
    else if (!one.prev) continue;
    else if (before && !before.includes(one.prev)) yield fault('wrong_prev', one);
    else if (one.n === 1 && !everywhere.has(one.prev)) yield fault('no_start', one);
  }
}

/** For each device the ids that no other entry names as the one before. */
export function chainEnds(links: readonly Link[]): Map<string, string[]> {
  const named = new Set(links.map((one) => one.prev));
  const ends = new Map<string, string[]>();
  for (const one of [...links].sort((a, b) => inOrder(a.id, b.id)))
    if (!named.has(one.sha256) && one.device !== null) gather(ends, one.device, one.id);
  return ends;
}

/** The ids of the ends and of everything before them in their chains. */
export function reached(links: readonly Link[], ends: Iterable<string>): Set<string> {
  const byId = new Map(links.map((one) => [one.id, one]));
  const bySha256 = new Map(links.map((one) => [one.sha256, one]));
  const found = new Set<string>();
  for (const end of ends) {
    let one = byId.get(end);
    while (one && !found.has(one.id)) {
      found.add(one.id);
      one = bySha256.get(one.prev ?? '');
    }
  }
  return found;
}

// Chains: what a writer writes one after the other, and whether it is all there unchanged.

import type { Sha256 } from './canonical.ts';
import { type Clock, tick } from './clock.ts';
import { type Entry, makeEntry, type Sig, toLine, wrongShape } from './entry.ts';

/** What a person wants written about one record; `signed`: with a signature, where one is given. */
export type Draft = Pick<Entry, 'record' | 'kind' | 'set'> &
  Partial<Pick<Entry, 'seen' | 'relies' | 'why'>> & { readonly signed?: boolean };

/** A writer's clock, and the number and SHA-256 of its last entry. */
export interface Chain {
  readonly clock: Clock;
  readonly n: number;
  readonly prev: string | null;
}

export interface ActFields extends Pick<Entry, 'by' | 'device' | 'wall' | 'schema'> {
  readonly act: string;
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
export interface Link extends Pick<Entry, 'id' | 'n' | 'prev'> {
  readonly sha256: string;
  readonly device: string | null;
}

/** The link of an entry whose line has this SHA-256. */
export function link({ id, n, prev, device }: Entry, sha256: string): Link {
  return { id, n, prev, sha256, device };
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

// Where chains have gaps, changes and forks: the twin of chain_faults, held to the same vectors.

import type { Link } from '@sync/chain';

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

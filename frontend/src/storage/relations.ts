/** Gathers what the row of a defect is made from. */

import { daysIn } from '../domain/days';
import { type Related, relatedOf } from '../domain/projection_related';
import type { Values } from '../domain/values';
import { actOf, type Pair } from '../domain/verdicts';
import type { StandingRow, Transaction } from './schema';
import { cameMs, pairOf } from './shelf';
import { isWithdrawn } from './standings';

/** The entries of a defect, its stamps, photographs, what lies on them, and rivet lines; `zone` makes the days. */
export async function gather(tx: Transaction, record: string, zone: string): Promise<Related> {
  const standing = tx.objectStore('standing');
  const [naming, own] = await Promise.all([
    standing.index('names').getAll(record),
    tx.objectStore('entries').index('record').getAll(record),
  ]);
  const photographs = naming.filter((row) => isNamed(row, 'photograph', 'defect', record));
  const named = await Promise.all(
    photographs.map(async (one) => {
      const rows = await standing.index('names').getAll(one.record);
      return rows.filter((row) => isNamed(row, row.kind, 'photograph', one.record));
    }),
  );
  const lying = (kind: string) => valuesBy(named.flat().filter((row) => row.kind === kind));
  const stamps = naming.filter((row) => isNamed(row, 'stamp', 'defect', record));
  const entries = inOrder(own.map(pairOf));
  const stamped = inOrder(await stampPairs(tx, stamps));
  return relatedOf({
    entries,
    stamps: stamped,
    withdrawn: await undone(tx, [...entries, ...stamped]),
    photographs: valuesBy(photographs),
    marks: lying('mark'),
    scales: lying('scale'),
    measurements: lying('measurement'),
    lines: valuesBy(naming.filter((row) => isNamed(row, 'rivet_line', 'defect', record))),
    day: daysIn(zone, cameMs(own)),
  });
}

function isNamed(row: StandingRow, kind: string, field: string, record: string): boolean {
  if (row.kind !== kind) return false;
  return Object.values(row.values).some((fields) => fields[field] === record);
}

function valuesBy(rows: readonly StandingRow[]): Record<string, Values> {
  return Object.fromEntries(rows.map((row) => [row.record, row.values]));
}

async function pairsOf(tx: Transaction, record: string): Promise<Pair[]> {
  const rows = await tx.objectStore('entries').index('record').getAll(record);
  return rows.map(pairOf);
}

/** The entries of stamps with the others of their acts. */
async function stampPairs(tx: Transaction, stamps: readonly StandingRow[]): Promise<Pair[]> {
  const own = await Promise.all(stamps.map(({ record }) => pairsOf(tx, record)));
  const acts = [...new Set(own.flat().map(([entry]) => actOf(entry)))];
  const mates = await Promise.all(
    acts.map((act) => tx.objectStore('entries').index('act').getAll(act)),
  );
  return [...own.flat(), ...mates.flat().map(pairOf)];
}

function inOrder(pairs: readonly Pair[]): Pair[] {
  const byId = new Map(pairs.map((pair) => [pair[0].id, pair]));
  return [...byId.keys()].sort().map((id) => byId.get(id) as Pair);
}

async function undone(tx: Transaction, pairs: readonly Pair[]): Promise<Set<string>> {
  const acts = [...new Set(pairs.map(([entry]) => actOf(entry)))];
  const taken = await Promise.all(acts.map((act) => isWithdrawn(tx, act)));
  return new Set(acts.filter((_act, at) => taken[at]));
}

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { KINDS } from '../../frontend/src/domain/kinds';
import { type Pair, type PairDecision, pairs } from '../../frontend/src/domain/pairs';
import type { PairRow } from '../../frontend/src/domain/pairs_spots';
import type { Definition } from '../../frontend/src/domain/place';
import type { Quantity } from '../../frontend/src/domain/quantities';
import { toTenthNm } from '../../frontend/src/domain/quantities';
import definition from '../../sample_data/skinpin_demo/data/definition_2603.json';
import demo from '../vectors/demo_rows.json';
import vectors from '../vectors/pairs.json';

const places = definition as unknown as Definition;
const rowsOf = (rows: unknown[]) =>
  rows.map((row) => ({ ...vectors.base, ...(row as object) })) as unknown as PairRow[];
const told = (found: Pair[]) =>
  found.map((pair) => [pair.query, ...pair.records, pair.reason, pair.decided]);

describe('pairs', () => {
  it('the demo has two candidates and one wrong hand', () => {
    const found = pairs(demo.rows as unknown as PairRow[], places);
    expect(told(found)).toEqual(vectors.demo);
    expect(found.map((pair) => [pair.query, ...pair.numbers])).toEqual([
      ['same defect', 'A/0002', 'B/0015'],
      ['same defect', 'A/0008', 'B/0019'],
      ['wrong hand', 'A/0011', 'B/0016'],
    ]);
  });

  it.each(vectors.cases)('$name', (row) => {
    const decisions = (row as { decisions?: PairDecision[] }).decisions;
    expect(told(pairs(rowsOf(row.rows), places, decisions))).toEqual(row.pairs);
    expect(told(pairs(rowsOf(row.rows).reverse(), places, decisions))).toEqual(row.pairs);
  });

  it('without a definition nothing is near', () => {
    expect(pairs(demo.rows as unknown as PairRow[], null)).toEqual([]);
  });

  it('the sweep finds what trying all finds', () => {
    fc.assert(
      fc.property(fc.array(row, { maxLength: 12 }), (made) => {
        const rows = rowsOf(made.map((one, at) => ({ ...one, record: `r${at + 100}` })));
        const found = pairs(rows, places).map((pair) => [pair.query, ...pair.records].join());
        expect(found.sort()).toEqual(byTryingAll(rows).sort());
      }),
      { numRuns: 300 },
    );
  });
});

const inch = fc
  .integer({ min: -2, max: 12 })
  .map((steps) => ({ value: `${steps / 4}`, unit: 'in' }));
const mm = fc.constantFrom('-10', '0', '12.7', '25.4', '50.8', '50.9');
const length = fc.oneof(
  inch,
  mm.map((value) => ({ value, unit: 'mm' })),
);
const row = fc.record({
  place: fc.record({
    structure: fc.constant('Hull'),
    hand: fc.constantFrom('P', 'S', 'C'),
    member: fc.constantFrom('F12', 'F12A', 'F13'),
    offset: length,
    strakes: fc.constantFrom(['K'], ['K', 'B1'], ['B1', 'B3'], ['B2'], ['C', 'B3'], []),
  }),
  kind: fc.constantFrom('pitting', 'exfoliation', 'crack', 'nil'),
  part: fc.constantFrom(null, 'keel', 'Keel'),
  length: fc.option(length),
});

const hull = places.structures[0] as Definition['structures'][number];
const IN = 254_000_000n;
const nm = (quantity: Quantity | null) => (quantity === null ? 0n : toTenthNm(quantity));
const size = (one: bigint) => (one < 0n ? -one : one);

function linesOf({ place }: PairRow): number[] {
  const at = (place?.strakes ?? []).map((strake) => hull.strakes.indexOf(strake));
  const [low, high] = [Math.min(...at), Math.max(...at)];
  return at.length === 0 ? [] : hull.strakes.map((_, line) => line).slice(low, high + 1);
}

const handOf = (one: PairRow) => (linesOf(one).join() === '0' ? 'C' : one.place?.hand);
const offsetOf = (one: PairRow) => nm(one.place?.offset ?? null);

function stationOf(one: PairRow): bigint {
  const member = hull.members.find(({ name }) => name === one.place?.member);
  return nm({ value: member?.station ?? '', unit: 'in' }) + offsetOf(one);
}

/** The member at or before a row, whatever member it was entered by. */
function nearestOf(one: PairRow): string {
  const station = stationOf(one);
  const before = hull.members.filter(
    (member) => nm({ value: member.station, unit: 'in' }) <= station,
  );
  return (before.at(-1) ?? hull.members[0])?.name ?? '';
}

const besideOf = (one: PairRow) => one.part?.toLowerCase() || `member ${nearestOf(one)}`;

function isSame(a: PairRow, b: PairRow): boolean {
  const [some, others] = [linesOf(a), linesOf(b)];
  const isBare = some.length + others.length === 0 && besideOf(a) === besideOf(b);
  const reach = [a, b].map((one) => nm(one.length)).map((one) => (one > 0n ? one : 0n));
  const asked = (reach[0] as bigint) + (reach[1] as bigint);
  return (
    handOf(a) === handOf(b) &&
    KINDS[a.kind as string]?.group === KINDS[b.kind as string]?.group &&
    (isBare || some.some((line) => others.includes(line))) &&
    2n * size(stationOf(a) - stationOf(b)) <= (asked > 4n * IN ? asked : 4n * IN)
  );
}

function isOpposite(a: PairRow, b: PairRow): boolean {
  const isBare = linesOf(a).length + linesOf(b).length === 0;
  return (
    [handOf(a), handOf(b)].sort().join() === 'P,S' &&
    nearestOf(a) === nearestOf(b) &&
    a.kind === b.kind &&
    linesOf(a).join() === linesOf(b).join() &&
    (!isBare || besideOf(a) === besideOf(b)) &&
    size(stationOf(a) - stationOf(b)) <= IN
  );
}

function byTryingAll(rows: PairRow[]): string[] {
  const real = rows.filter((one) => one.kind !== 'nil');
  const couples = real.flatMap((a, at) =>
    real.slice(at + 1).map((b): [PairRow, PairRow] => [a, b]),
  );
  const found = ([a, b]: [PairRow, PairRow]) => [
    ...(isSame(a, b) ? [`same defect,${a.record},${b.record}`] : []),
    ...(isOpposite(a, b) ? [`wrong hand,${a.record},${b.record}`] : []),
  ];
  return couples.flatMap(found);
}

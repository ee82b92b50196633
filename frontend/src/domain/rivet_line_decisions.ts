/** What each hole takes next, checked for edge, pitch and rows, and what stores must give. */

import {
  type Quantity,
  roundedText,
  TENTH_NM,
  toMillionths,
  toTenthNm,
  type Unit,
} from './quantities';
import { bySize, type Hole, type Read } from './rivet_line_holes';
import { fractionTenthNm, holeTenthNm, nextLarger, ORDER, stockLength } from './rivet_line_sizes';
import { NOT_EFFECTIVE } from './rivet_line_states';

export type Result =
  | 'renew same size'
  | 'renew oversize'
  | 'refer to design authority'
  | 'measure first';

/** One check of a size: what was checked, whether it holds (null: not measured), in words. */
export interface Check {
  check: string;
  holds: boolean | null;
  words: string;
}

/** What a hole takes: its size, why, the checks; unmeasured holes may change once drilled. */
export interface Decision {
  hole: number;
  result: Result;
  diameter: string | null;
  measured: boolean;
  words: string;
  checks: Check[];
}

export interface Demand {
  head: string;
  alloy: string;
  diameter: string;
  length: string;
  holes: number[];
  count: number;
}

const PLACES: Readonly<Record<Unit, number>> = { in: 3, mm: 2 };
const FINER = 4;
const HUNDRED = 100_000_000n;

/** A decision for each hole that is not effective now. */
export function decide(line: Read): Decision[] {
  return line.holes
    .filter((hole) => NOT_EFFECTIVE.includes(hole.now))
    .map((hole) => decideOn(hole, line));
}

function decideOn(hole: Hole, line: Read): Decision {
  const [diameter, words] = sizeFor(hole, line);
  const told = { hole: hole.at, diameter, measured: hole.widest !== null, words };
  if (diameter === null) return { ...told, result: 'refer to design authority', checks: [] };
  const checks = sizeChecks(diameter, line, hole.edge);
  const isSame = diameter === hole.designed.diameter;
  let result: Result = isSame ? 'renew same size' : 'renew oversize';
  if (checks.some((check) => check.holds === false)) result = 'refer to design authority';
  else if (!isSame && checks.some((check) => check.holds === null)) result = 'measure first';
  return { ...told, result, checks };
}

/** The size a hole takes, and why. */
function sizeFor(hole: Hole, line: Read): [string | null, string] {
  const own = hole.designed.diameter;
  if (hole.widest === null) return [own, `not measured: ${own} until drilled and measured`];
  const widest = toTenthNm(hole.widest);
  const { value: typed, unit } = hole.widest;
  const keeps = holeTenthNm(own) + line.fit_allowance;
  const limit = limitText(keeps, unit, widest);
  if (widest <= keeps) return [own, `${typed} ≤ ${limit}: keep ${own}`];
  const larger = ORDER.slice(ORDER.indexOf(own) + 1);
  const size = larger.find((one) => widest <= holeTenthNm(one) + line.fit_allowance);
  if (size === undefined) {
    return [null, `${typed} > ${limit}: no size in the catalogue is large enough`];
  }
  const nominal = limitText(holeTenthNm(size), unit);
  return [size, `${typed} > ${limit}: ${size}, hole ${nominal}${skips(own, size)}`];
}

function skips(own: string, size: string): string {
  const step = nextLarger(own);
  const isMore = fractionTenthNm(size) > fractionTenthNm(step);
  return isMore ? `; more than one step, which is ${step}` : '';
}

/** The checks of a size against edge, pitch and, where there are rows, their spacing. */
export function sizeChecks(diameter: string, line: Read, edge: Quantity | null): Check[] {
  const checks = [
    line.flush
      ? atLeast('edge', edge, diameter, '2.5 D', 5n)
      : atLeast('edge', edge, diameter, '2 D', 4n),
    atLeast('pitch', line.pitch, diameter, '3 D', 6n),
  ];
  if (line.row_spacing === null) return checks;
  return [...checks, atLeast('row spacing', line.row_spacing, diameter, '2.5 D', 5n)];
}

function atLeast(
  check: string,
  measured: Quantity | null,
  diameter: string,
  times: string,
  halves: bigint,
): Check {
  if (measured === null) return { check, holds: null, words: `${check} not measured` };
  const length = toTenthNm(measured);
  const limit = (halves * fractionTenthNm(diameter)) / 2n;
  const sign = length >= limit ? '≥' : '<';
  const shown = limitText(limit, measured.unit, length);
  const words = `${check} ${measured.value} ${sign} ${times} ${shown}`;
  return { check, holds: length >= limit, words };
}

/** A limit as text, finer where rounding would turn the comparison about. */
function limitText(limit: bigint, unit: Unit, measured: bigint | null = null): string {
  const text = roundedText(limit, TENTH_NM[unit], PLACES[unit]);
  const shown = toTenthNm({ value: text, unit });
  if (measured === null || orderOf(measured, limit) === orderOf(measured, shown)) return text;
  return roundedText(limit, TENTH_NM[unit], PLACES[unit] + FINER).replace(/0+$/, '');
}

function orderOf(a: bigint, b: bigint): number {
  return a > b ? 1 : a < b ? -1 : 0;
}

/** What is unusual about the pitch: under 4 D or over 8 D. */
export function pitchNotes(line: Read, diameter: string): string[] {
  if (line.pitch === null) return [];
  const { value, unit } = line.pitch;
  const length = toTenthNm(line.pitch);
  const size = fractionTenthNm(diameter);
  const note = (sign: string, count: bigint) =>
    `Pitch ${value} ${sign} ${count} D ${limitText(count * size, unit, length)}, which is seldom.`;
  return [
    ...(length < 4n * size ? [note('<', 4n)] : []),
    ...(length > 8n * size ? [note('>', 8n)] : []),
  ];
}

/** The warning of the rule of thumb: a diameter of one to three thickest sheets. */
export function thumbNote(sheets: readonly bigint[], diameter: string): string | null {
  const thickest = bySize(sheets).at(-1) as bigint;
  const size = fractionTenthNm(diameter);
  if (thickest <= size && size <= 3n * thickest) return null;
  const how = size < thickest ? 'thinner than' : 'more than three times';
  return `A ${diameter} rivet is ${how} its thickest sheet, ${limitText(thickest, 'in')} in.`;
}

/** The rivets to draw by head, alloy, diameter and length, with spares. */
export function demand(decisions: readonly Decision[], line: Read): Demand[] {
  const bundles = new Map<string, Omit<Demand, 'count'>>();
  for (const one of decisions) {
    const hole = line.holes[one.hole - 1];
    if (!one.result.startsWith('renew') || one.diameter === null || !hole) continue;
    const grip = hole.sheets.reduce((a, b) => a + b);
    const { alloy } = hole.designed;
    const length = stockLength(grip, one.diameter, line.half_sizes);
    const key = [alloy, one.diameter, length].join();
    const bundle = bundles.get(key);
    if (bundle) bundle.holes.push(one.hole);
    else {
      const rivet = { head: line.head, alloy, diameter: one.diameter, length };
      bundles.set(key, { ...rivet, holes: [one.hole] });
    }
  }
  return [...bundles.values()].sort(inOrder).map((bundle) => {
    const spared = BigInt(bundle.holes.length) * (HUNDRED + toMillionths(line.spare_percent));
    return { ...bundle, count: Number((spared + HUNDRED - 1n) / HUNDRED) };
  });
}

type Bundle = Omit<Demand, 'count'>;

function inOrder(a: Bundle, b: Bundle): number {
  if (a.alloy !== b.alloy) return a.alloy < b.alloy ? -1 : 1;
  const first = ({ holes }: Bundle) => holes[0] as number;
  return ORDER.indexOf(a.diameter) - ORDER.indexOf(b.diameter) || first(a) - first(b);
}

/** What a rivet line may carry in shear, as whole figures, and which share of it is left.

A load is counted in parts of a pound that make every load a whole number: π is taken to twenty
decimals and lengths to 0.1 nm, so that shares are exact wherever bearing doesn't govern, for then π
falls out. */

import { roundedText } from './quantities';
import { bySize, fittedIn, type Hole, type Read, type Rivet } from './rivet_line_holes';
import { alloyOf, fractionTenthNm, holeTenthNm, INCH } from './rivet_line_sizes';

const PI = 314159265358979323846n;
const ONE = 10n ** 20n;
const PARTS_OF_POUND = 4n * ONE * INCH ** 2n;
const WINDOW = 6;

/** For each hole what it carries and what it was designed to carry. */
export type Loads = readonly (readonly [carried: bigint, designed: bigint])[];

export interface Worst {
  percent: string;
  from: number;
  to: number;
}

const least = (lengths: readonly bigint[]) => bySize(lengths)[0] as bigint;

/** What one rivet may carry: the lower of shear and, where it is known, bearing. */
export function loadOf(rivet: Rivet, sheets: readonly bigint[], line: Read): bigint {
  const strength = BigInt(alloyOf(rivet.alloy).shear[line.basis].f_su_psi);
  const byHole = line.basis === 'hole';
  const size = byHole ? holeTenthNm(rivet.diameter) : fractionTenthNm(rivet.diameter);
  const shear = strength * PI * size ** 2n * line.planes;
  if (line.f_bru_psi === null) return shear;
  const bearing = line.f_bru_psi * 4n * ONE * size * least(sheets);
  return bearing < shear ? bearing : shear;
}

/** A load in whole pounds, half up. */
export function pounds(load: bigint): string {
  return roundedText(load, PARTS_OF_POUND, 0);
}

/** What the holes carry, as found or now; holes not reached carry nothing unless told. */
export function loadsOf(line: Read, found: boolean, notReached = false): Loads {
  return line.holes.map((hole) => loadsIn(hole, line, found ? hole.found : hole.now, notReached));
}

function loadsIn(hole: Hole, line: Read, state: string, notReached: boolean): [bigint, bigint] {
  const designed = loadOf(hole.designed, hole.sheets, line);
  if (state === 'S') return [designed, designed];
  if (state === 'N') return [notReached ? designed : 0n, designed];
  if (state !== 'R' && state !== 'V') return [0n, designed];
  return [loadOf(fittedIn(hole, state), hole.sheets, line), designed];
}

function summed(loads: Loads): [part: bigint, whole: bigint] {
  const sum = (some: readonly bigint[]) => some.reduce((a, b) => a + b, 0n);
  return [sum(loads.map(([carried]) => carried)), sum(loads.map(([, designed]) => designed))];
}

/** The share of the designed load that is left, in percent. */
export function share(loads: Loads): string {
  return shareText(...summed(loads));
}

/** A percentage to 0.1, finer where that would round it up to a whole percent.

A limit is a whole percent, so a share under one never reads as reaching it: 74.96, not 75.0. */
export function shareText(part: bigint, whole: bigint): string {
  const below = String((part * 100n) / whole);
  for (let places = 1; places < 7; places++) {
    const text = roundedText(part * 100n, whole, places);
    if (text.slice(0, text.indexOf('.')) === below) return text;
  }
  return `${below}.999999`;
}

/** The first six in a row (all, where there are fewer) that have the least share left. */
export function worstInRow(loads: Loads): Worst {
  const size = Math.min(WINDOW, loads.length);
  let [best, bestAt] = [summed(loads.slice(0, size)), 0];
  for (let at = 1; at + size <= loads.length; at++) {
    const [part, whole] = summed(loads.slice(at, at + size));
    if (part * best[1] < best[0] * whole) [best, bestAt] = [[part, whole], at];
  }
  return { percent: shareText(...best), from: bestAt + 1, to: bestAt + size };
}

/** The holes whose thinnest sheet is under 0.18 D, where shear has to be reduced. */
export function thinSheet(line: Read): number[] {
  return line.holes
    .filter((hole) => 100n * least(hole.sheets) < 18n * fractionTenthNm(hole.designed.diameter))
    .map((hole) => hole.at);
}

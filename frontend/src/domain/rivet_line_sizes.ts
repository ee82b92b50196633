/** The rivet catalogue: sizes, alloys, codes, lengths and driven heads.

Lengths are whole 0.1 nm; diameters are written as fractions of an inch, as rivets are ordered. */

import catalogue from '@tables/rivets.json';
import { Refused } from './errors';
import { rowOf } from './kinds';
import { scaled, TENTH_NM } from './quantities';

export interface Basis {
  text: string;
  source: string;
  marker: string;
  verify?: boolean;
}

export type ShearBasis = 'hole' | 'rivet';

export interface Alloy {
  letters: string;
  mark: string;
  shear: Readonly<Record<ShearBasis, { f_su_psi: string; basis: Basis }>>;
}

export interface Size {
  structural_nominal_hole: string;
  handbook_drill: string;
  handbook_drill_inches: string;
}

/** What a rivet's code says: head and its kind, alloy, diameter and length as fractions. */
export interface Code {
  head: string;
  flush: boolean;
  alloy: string;
  diameter: string;
  length: string;
}

export const INCH = TENTH_NM.in;
export const SIZES: Readonly<Record<string, Size>> = catalogue.sizes;
export const ALLOYS: Readonly<Record<string, Alloy>> = catalogue.alloys;
export const HEADS: Readonly<Record<string, { head: string; flush: boolean }>> = catalogue.heads;
export const LIMITS = catalogue.limits;
/** The sizes, smallest first. */
export const ORDER = Object.keys(SIZES);
const FRACTION = /^([0-9]{1,3})\/([0-9]{1,3})$/;
const CODE = /^(?:MS20|AN)([0-9]{3})(AD|DD|A|B|D|E|M)([0-9]{1,2})-([0-9]{1,2})(\.5)?$/;

/** A fraction of an inch in 0.1 nm: 5/32 is 39 687 500. */
export function fractionTenthNm(text: string): bigint {
  const found = FRACTION.exec(text);
  const [top, bottom] = [BigInt(found?.[1] ?? 0), BigInt(found?.[2] ?? 0)];
  if (top === 0n || bottom === 0n || (INCH * top) % bottom !== 0n) {
    throw new Refused('not_a_size', `“${text}” is no size of a rivet.`, 'Write it as 5/32.');
  }
  return (INCH * top) / bottom;
}

/** So many parts of an inch in lowest terms: 8 of 16 is 1/2. */
export function fractionText(parts: number, of: number): string {
  const least = commonPart(parts, of);
  const [top, bottom] = [parts / least, of / least];
  const whole = Math.floor(top / bottom);
  const rest = top % bottom;
  if (rest === 0) return String(whole);
  return whole > 0 ? `${whole} ${rest}/${bottom}` : `${rest}/${bottom}`;
}

function commonPart(a: number, b: number): number {
  return b === 0 ? a : commonPart(b, a % b);
}

/** A figure of the catalogue, decimal inches, in 0.1 nm. */
export function inchesTenthNm(text: string): bigint {
  const length = scaled(text, INCH);
  if (length !== null) return length;
  throw new Refused('not_a_figure', `“${text}” is no decimal figure.`, 'Mend the catalogue.');
}

/** The row of a size: its structural nominal hole and its handbook drill. */
export function sizeOf(diameter: string): Size {
  const row = rowOf(SIZES, diameter);
  if (row) return row;
  const known = ORDER.join(', ');
  const message = `No ${diameter} rivet is in the catalogue.`;
  throw new Refused('no_such_size', message, `It has ${known}.`);
}

/** The row of an alloy. */
export function alloyOf(alloy: string): Alloy {
  const row = rowOf(ALLOYS, alloy);
  if (row) return row;
  const known = Object.keys(ALLOYS).join(', ');
  const message = `No alloy ${alloy} is in the catalogue.`;
  throw new Refused('no_such_alloy', message, `It has ${known}.`);
}

/** The structural nominal hole of a size. */
export function holeTenthNm(diameter: string): bigint {
  return inchesTenthNm(sizeOf(diameter).structural_nominal_hole);
}

/** The size one step up: 1/32 in up to 1/4 in, 1/16 in above. */
export function nextLarger(diameter: string): string {
  const parts = Number((fractionTenthNm(diameter) * 32n) / INCH);
  return fractionText(parts + (parts < 8 ? 1 : 2), 32);
}

/** The smallest size that is three times a sheet's thickness, or null past the last. */
export function sizeForSheet(thickness: bigint): string | null {
  return ORDER.find((one) => fractionTenthNm(one) >= 3n * thickness) ?? null;
}

/** grip + 1.5 D, rounded up to the next stocked length in inches: 0.208 and 5/32 is 1/2. */
export function stockLength(grip: bigint, diameter: string, halfSizes = false): string {
  const of = halfSizes ? 32n : 16n;
  const length = (2n * grip + 3n * fractionTenthNm(diameter)) * of;
  const steps = (length + 2n * INCH - 1n) / (2n * INCH);
  return fractionText(Number(steps), Number(of));
}

/** How many rivets of a pattern may be oversize: a fifth of them, ten at most. */
export function oversizeAllowed(count: number): number {
  return Math.min(Math.floor(count / 5), 10);
}

/** Width and height that a driven head should have: 1.5 D and 0.5 D. */
export function headTarget(diameter: string): [width: bigint, height: bigint] {
  const size = fractionTenthNm(diameter);
  return [(3n * size) / 2n, size / 2n];
}

/** Whether a driven head as measured holds. */
export function headHolds(
  width: bigint,
  height: bigint,
  diameter: string,
  alloy: string,
): 'below minimum' | 'below target' | 'holds' {
  const size = fractionTenthNm(diameter);
  const tenths = alloy === '7050' ? 14n : 13n;
  if (10n * width < tenths * size || 10n * height < 3n * size) return 'below minimum';
  const [wide, high] = headTarget(diameter);
  return width < wide || height < high ? 'below target' : 'holds';
}

/** What a rivet's code says; diameter in 1/32, length in 1/16 in, half sizes .5. */
export function readCode(text: string): Code {
  const found = CODE.exec(text.replace(/^ +| +$/g, '').toUpperCase());
  const head = rowOf(HEADS, found?.[1]);
  const alloy = Object.keys(ALLOYS).find((name) => ALLOYS[name]?.letters === found?.[2]);
  if (!found || !head || alloy === undefined) {
    throw new Refused('not_a_rivet', `“${text}” is no rivet code.`, 'Write it as MS20470AD4-7.');
  }
  const halves = 2 * Number(found[4]) + (found[5] ? 1 : 0);
  const diameter = fractionText(Number(found[3]), 32);
  return { ...head, alloy, diameter, length: fractionText(halves, 32) };
}

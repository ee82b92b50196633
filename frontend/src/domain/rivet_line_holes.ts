/** A rivet line as recorded, read into whole figures. */

import { Refused } from './errors';
import { rowOf } from './kinds';
import { type Quantity, scaled, toTenthNm } from './quantities';
import {
  alloyOf,
  HEADS,
  inchesTenthNm,
  LIMITS,
  ORDER,
  type ShearBasis,
  sizeOf,
} from './rivet_line_sizes';
import { checkStates } from './rivet_line_states';

/** A size and an alloy. */
export interface Rivet {
  diameter: string;
  alloy: string;
}

export interface Sheet {
  material?: string;
  thickness: Quantity;
}

/** What a record says of one hole: measures, and where it differs from the rest of the line. */
export interface HoleRecord extends Partial<Rivet> {
  major?: Quantity;
  minor?: Quantity;
  edge?: Quantity;
  sheets?: Sheet[];
  fitted?: Partial<Rivet>;
}

export interface Line extends Rivet {
  /** Code of the head: "470". */
  head: string;
  sheets: Sheet[];
  as_found: string;
  as_now: string;
  pitch?: Quantity;
  edge?: Quantity;
  row_spacing?: Quantity;
  planes?: number;
  basis?: ShearBasis;
  f_bru_psi?: string;
  fit_allowance?: Quantity;
  spare_percent?: string;
  half_sizes?: boolean;
  holes?: Readonly<Record<string, HoleRecord>>;
}

/** One hole: states, rivet as designed and as the record says of a renewed one, measures. */
export interface Hole {
  at: number;
  found: string;
  now: string;
  designed: Rivet;
  given: Rivet | null;
  widest: Quantity | null;
  edge: Quantity | null;
  sheets: bigint[];
}

/** A line whose figures were read; lengths in 0.1 nm, strengths in whole psi. */
export interface Read {
  holes: Hole[];
  head: string;
  flush: boolean;
  planes: bigint;
  basis: ShearBasis;
  f_bru_psi: bigint | null;
  pitch: Quantity | null;
  row_spacing: Quantity | null;
  fit_allowance: bigint;
  spare_percent: string;
  half_sizes: boolean;
}

/** A line read; refused where a state, size, alloy, head or figure is none. */
export function readLine(line: Line): Read {
  checkStates(line.as_found, line.as_now);
  const head = rowOf(HEADS, line.head);
  if (head === undefined) {
    const known = Object.entries(HEADS).map(([code, row]) => `${code} ${row.head}`);
    const message = `No head ${line.head} is known.`;
    throw new Refused('not_a_rivet', message, `Heads are ${known.join(', ')}.`);
  }
  const fit = line.fit_allowance;
  return {
    holes: [...line.as_found].map((found, before) => holeOf(line, before + 1, found)),
    head: head.head,
    flush: head.flush,
    planes: BigInt(line.planes || 1),
    basis: line.basis || 'hole',
    f_bru_psi: line.f_bru_psi ? psi(line.f_bru_psi) : null,
    pitch: line.pitch ?? null,
    row_spacing: line.row_spacing ?? null,
    fit_allowance: fit ? toTenthNm(fit) : inchesTenthNm(LIMITS.fit_allowance.inches),
    spare_percent: line.spare_percent || LIMITS.spare.percent,
    half_sizes: line.half_sizes === true,
  };
}

/** Lengths in order, the smallest first. */
export function bySize(lengths: readonly bigint[]): bigint[] {
  return [...lengths].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
}

/** What was put in; where nobody says, oversize is the next size in the catalogue. */
export function fittedIn(hole: Hole, state: string): Rivet {
  if (hole.given !== null || state !== 'V') return hole.given ?? hole.designed;
  const after = Math.min(ORDER.indexOf(hole.designed.diameter) + 1, ORDER.length - 1);
  return { ...hole.designed, diameter: ORDER[after] as string };
}

function holeOf(line: Line, at: number, found: string): Hole {
  const own = rowOf(line.holes ?? {}, String(at)) ?? {};
  const designed = rivetOf(own, line);
  const measured = [own.major, own.minor].filter((one) => one !== undefined);
  const sheets = own.sheets?.length ? own.sheets : line.sheets;
  if (sheets.length === 0) {
    const message = `Hole ${at} joins no sheets.`;
    throw new Refused('not_a_rivet_line', message, 'Say what it goes through.');
  }
  return {
    at,
    found,
    now: line.as_now.charAt(at - 1),
    designed,
    given: own.fitted ? rivetOf(own.fitted, designed) : null,
    widest: widestOf(measured),
    edge: own.edge ?? line.edge ?? null,
    sheets: sheets.map(thicknessOf),
  };
}

function thicknessOf(sheet: Sheet): bigint {
  const thickness = toTenthNm(sheet.thickness);
  if (thickness > 0n) return thickness;
  const { value, unit } = sheet.thickness;
  throw new Refused('no_thickness', `No sheet is ${value} ${unit} thick.`, 'Measure it again.');
}

function widestOf(measured: readonly Quantity[]): Quantity | null {
  const [first = null, second] = measured;
  if (first === null || second === undefined) return first;
  return toTenthNm(second) > toTenthNm(first) ? second : first;
}

function psi(text: string): bigint {
  const strength = scaled(text, 1n);
  if (strength !== null && strength > 0n) return strength;
  throw new Refused('not_a_rivet_line', `${text} psi is no strength.`, 'Write whole psi.');
}

function rivetOf(given: Partial<Rivet>, otherwise: Rivet): Rivet {
  const diameter = given.diameter || otherwise.diameter;
  const alloy = given.alloy || otherwise.alloy;
  sizeOf(diameter);
  alloyOf(alloy);
  return { diameter, alloy };
}

/** Lengths as typed: decimal text with a unit, compared as whole numbers of 0.1 nm. */

import { Refused } from './errors';

export type Unit = 'in' | 'mm';

export interface Quantity {
  value: string;
  unit: Unit;
  method?: string;
  instrument?: string;
  /** Number of the record it was copied from: a hint that nobody measured here. */
  copied_from?: string;
  /** `of`: the instrument whose figure it is. */
  uncertainty?: { value: string; unit: Unit; of?: string };
}

export const TENTH_NM: Readonly<Record<Unit, bigint>> = { in: 254_000_000n, mm: 10_000_000n };
/** The last decimal place that is whole 0.1 nm, as the refusal says it. */
const FINEST: Readonly<Record<Unit, string>> = { in: '0.000001 in', mm: '0.0000001 mm' };
export const OTHER_UNIT: Readonly<Record<Unit, Unit>> = { in: 'mm', mm: 'in' };
export const NOT_MEASURED = 'not measured';
const MOST_CHARACTERS = 20;
const MOST_KEPT = 65_536;
const FIGURE = /^-?(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)$/;
const COPIED_METHOD = /^as ([^ ,]*), not measured here$/;
const UNNAMED = 'another record';
const WITHDRAWN = 'scale withdrawn';
const EXAMPLE = 'Type digits with one point or comma, such as 0.064.';

/**
 * A decimal figure as a whole number of parts, `perUnit` of them to one; null where the text is
 * no figure, or is finer than one part.
 */
export function scaled(text: string, perUnit: bigint): bigint | null {
  if (text.length > MOST_CHARACTERS || !FIGURE.test(text)) return null;
  const point = text.indexOf('.');
  if (point < 0) return BigInt(text) * perUnit;
  const digits = BigInt(text.slice(0, point) + text.slice(point + 1));
  const steps = 10n ** BigInt(text.length - point - 1);
  const parts = digits * perUnit;
  return parts % steps === 0n ? parts / steps : null;
}

const keptLengths: Record<Unit, Map<string, bigint | null>> = { in: new Map(), mm: new Map() };

// The same few figures come again and again while a list is graded.
function lengthOf(text: string, unit: Unit): bigint | null {
  const kept = keptLengths[unit];
  let parts = kept.get(text);
  if (parts === undefined) {
    parts = scaled(text, TENTH_NM[unit]);
    if (kept.size >= MOST_KEPT) kept.clear();
    kept.set(text, parts);
  }
  return parts;
}

/** Whether a value has the shape of a measured figure (it may still be refused). */
export function isQuantity(value: unknown): value is Quantity {
  if (typeof value !== 'object' || value === null) return false;
  const { value: text, unit } = value as { value?: unknown; unit?: unknown };
  return typeof text === 'string' && (unit === 'in' || unit === 'mm');
}

/** A quantity in 0.1 nm, or null for anything that is no figure. */
export function tenthNmOrNull(value: unknown): bigint | null {
  return isQuantity(value) ? lengthOf(value.value, value.unit) : null;
}

/**
 * The number of the record that a figure was copied from; "" for any other value. Release 1 said
 * it in the method: "as D/0001, not measured here", or with no number at all.
 */
export function copiedFrom(value: unknown): string {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return '';
  const { copied_from, method } = value as Record<string, unknown>;
  if (copied_from != null)
    return typeof copied_from === 'string' && copied_from ? copied_from : UNNAMED;
  const said = typeof method === 'string' ? COPIED_METHOD.exec(method) : null;
  return said ? said[1] || UNNAMED : '';
}

/** Whether a value is a figure from a photograph whose scale was struck since. */
export function isWithdrawn(value: unknown): boolean {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return false;
  return (value as Record<string, unknown>).scale_withdrawn === true;
}

/** Whether a value is a figure that counts for no measurement: copied, or withdrawn. */
export function isUnmeasured(value: unknown): boolean {
  return copiedFrom(value) !== '' || isWithdrawn(value);
}

/** Why a figure counts for no measurement, nothing of one that does: "copied from D/0001, not
measured here" or "scale withdrawn". */
export function unmeasuredWords(value: unknown): string {
  if (isWithdrawn(value)) return WITHDRAWN;
  const source = copiedFrom(value);
  return source ? `copied from ${source}, not measured here` : '';
}

/** A quantity in whole 0.1 nm; refused when not measured, no figure, or finer than that. */
export function toTenthNm(quantity: unknown): bigint {
  if (!isQuantity(quantity)) {
    throw new Refused(
      'not_a_quantity',
      `${shown(quantity)} is no measured figure.`,
      'Give a figure with its unit, in or mm.',
    );
  }
  const parts = lengthOf(quantity.value, quantity.unit);
  if (parts !== null) return parts;
  refuseFigure(quantity.value);
  throw new Refused(
    'too_fine',
    `${quantity.value} ${quantity.unit} is finer than ${FINEST[quantity.unit]}, the finest step kept.`,
    'Leave out the last figures.',
  );
}

/** What was typed as a quantity: the same figure, a decimal comma as a point. */
export function parseTyped(text: string, unit: Unit, signed = false): Quantity {
  let figure = text.trim().replaceAll('\u2212', '-');
  if (figure.split(',').length === 2 && !figure.includes('.')) figure = figure.replace(',', '.');
  refuseFigure(figure);
  if (figure.startsWith('-') && !signed) {
    throw new Refused('below_nought', `A length can't be ${figure}.`, 'Leave out the minus.');
  }
  const quantity: Quantity = { value: figure, unit };
  toTenthNm(quantity);
  return quantity;
}

function refuseFigure(figure: string): void {
  if (figure === '') throw new Refused('no_figure', 'No figure was typed.', EXAMPLE);
  if (figure.length > MOST_CHARACTERS) {
    const message = `The figure has more than ${MOST_CHARACTERS} characters.`;
    throw new Refused('too_long', message, EXAMPLE);
  }
  if (!FIGURE.test(figure)) {
    throw new Refused('not_a_figure', `“${figure}” is no decimal figure.`, EXAMPLE);
  }
}

function shown(value: unknown): string {
  if (typeof value !== 'object' || value === null) return `“${value}”`;
  const { value: text, unit } = value as { value?: unknown; unit?: unknown };
  return `“${text} ${unit}”`;
}

/** -1, 0 or 1: how quantity a stands to b, whatever their units. */
export function compare(a: unknown, b: unknown): -1 | 0 | 1 {
  const first = toTenthNm(a);
  const second = toTenthNm(b);
  return first > second ? 1 : first < second ? -1 : 0;
}

const MILLION = 1_000_000n;

/** Whether a part is more than a percentage of the whole; exactly at it is not more. */
export function exceedsShare(part: unknown, whole: unknown, percent: string): boolean {
  return toTenthNm(part) * 100n * MILLION > wholeOf(whole) * toMillionths(percent);
}

/** A decimal percentage in whole millionths of a percent. */
export function toMillionths(percent: unknown): bigint {
  const parts = typeof percent === 'string' ? scaled(percent, MILLION) : null;
  if (parts === null) {
    throw new Refused('not_a_percentage', `“${percent}” is no percentage.`, EXAMPLE);
  }
  return parts;
}

/** Part of whole as a percentage to 0.1, half up: "17.2 %". */
export function percentText(part: unknown, whole: unknown): string {
  return percentOf(toTenthNm(part), wholeOf(whole));
}

/** One whole number as a percentage of another, to 0.1, half up. */
export function percentOf(part: bigint, whole: bigint): string {
  return `${roundedText(part * 100n, whole, 1)} %`;
}

function wholeOf(quantity: unknown): bigint {
  const whole = toTenthNm(quantity);
  if (whole > 0n) return whole;
  const message = `Nothing is a share of ${shown(quantity)}.`;
  throw new Refused('no_thickness', message, 'Measure it again.');
}

/** part ÷ whole (whole above nought) with so many decimals, half away from nought. */
export function roundedText(part: bigint, whole: bigint, places: number): string {
  const size = part < 0n ? -part : part;
  const steps = (size * 10n ** BigInt(places) * 2n + whole) / (whole * 2n);
  return decimalText(part < 0n ? -steps : steps, places);
}

/** A whole number of 10^-places as decimal text, all places shown. */
export function decimalText(steps: bigint, places: number): string {
  const digits = String(steps < 0n ? -steps : steps).padStart(places + 1, '0');
  const sign = steps < 0n ? '-' : '';
  if (places === 0) return sign + digits;
  return `${sign}${digits.slice(0, -places)}.${digits.slice(-places)}`;
}

/** How many decimals a figure was typed with. */
export function placesOf(text: string): number {
  const point = text.indexOf('.');
  return point < 0 ? 0 : text.length - point - 1;
}

/** A quantity in the other unit, about as fine as it was typed: 0.064 in is "1.626 mm". */
export function otherUnitText(quantity: unknown): string {
  const length = toTenthNm(quantity);
  const { value, unit } = quantity as Quantity;
  const typed = placesOf(value);
  const places = unit === 'mm' ? typed + 2 : typed >= 2 ? typed : 0;
  const other = OTHER_UNIT[unit];
  return `${roundedText(length, TENTH_NM[other], places)} ${other}`;
}

/** A quantity as typed with its unit and what it is sure to: "0.38 ± 0.02 in"; "" for none. */
export function figureText(quantity: unknown): string {
  if (!isQuantity(quantity)) return '';
  const { value, unit, uncertainty } = quantity;
  if (!isQuantity(uncertainty) || tenthNmOrNull(uncertainty) === null) return `${value} ${unit}`;
  const own = uncertainty.unit === unit ? '' : ` ${unit}`;
  return `${value}${own} ± ${uncertainty.value} ${uncertainty.unit}`;
}

/** A damage size rounded up to the next tenth of its unit; a whole tenth stays. */
export function roundUpTenth(quantity: unknown): Quantity {
  const length = toTenthNm(quantity) * 10n;
  const { unit } = quantity as Quantity;
  const tenths = length / TENTH_NM[unit];
  const over = length > tenths * TENTH_NM[unit] ? 1n : 0n;
  return { value: decimalText(tenths + over, 1), unit };
}

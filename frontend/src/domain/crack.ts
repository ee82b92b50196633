/** A crack's record: is it growing, is that real, and how far it still is to the next edge.

No life is foretold: that belongs to the design authority. */

import { type Rate, rateOf, wholeRoot } from './crack_rate';
import { Refused } from './errors';
import { dayNumber } from './figures';
import { placesOf, type Quantity, roundedText, TENTH_NM, toTenthNm, type Unit } from './quantities';

const NO_LIFE = 'No life is foretold; that is for the design authority.';
const PLACES = 3;

export interface Observation {
  date: string;
  /** With its uncertainty, k = 2. */
  length: Quantity;
  method?: string;
  /** One was drilled: a new series begins. */
  stop_hole?: boolean;
}

export interface Growth {
  since: string;
  growth: string;
  limit: string | null;
  /** null: an uncertainty is missing, so nothing can be said. */
  shown: boolean | null;
  words: string;
}

export interface CrackPoint {
  date: string;
  since_previous: Growth | null;
  since_first: Growth | null;
  shorter: boolean;
  growth_shown: boolean;
}

export interface CrackRate {
  per_30_days: string;
  standard_error: string;
  unit: Unit;
  points: number;
  words: string;
}

export interface Crack {
  points: CrackPoint[];
  series: { from: string; points: number }[];
  growth_shown: boolean;
  rate: CrackRate | null;
  left: { left: string; uncertainty: string | null; unit: Unit; words: string } | null;
  breaks: string[];
  life: string;
}

/** One observation read; lengths in 0.1 nm, `own` as it was written, `day` as a number. */
interface Seen {
  own: Observation;
  day: number;
  length: bigint;
  uncertainty: bigint | null;
  unit: Unit;
}

type Series = readonly Seen[];

/** What the observations of one crack come to.

A change of method and a stop-hole break the series. `limit` is the distance from the crack's start
to the next hole or edge, named by `to`. Refused where a date or a length is none, or below nought. */
export function crack(
  observations: readonly Observation[],
  limit: Quantity | null = null,
  to = 'next hole',
): Crack {
  const read = observations.map(seenIn).sort((a, b) => a.day - b.day);
  const series = seriesOf(read);
  const last = series.at(-1) ?? [];
  const end = last.at(-1);
  return {
    points: series.flatMap((one) => one.map((_, at) => pointOf(one, at))),
    series: series.map((one) => ({ from: one[0]?.own.date ?? '', points: one.length })),
    growth_shown: series.some(isGrown),
    rate: ratedOf(rateOf(last.map((one) => [BigInt(one.day), one.length])), last),
    left: end && limit ? leftOf(end, limit, to) : null,
    breaks: series
      .slice(1)
      .map((one, before) => breakWords(series[before]?.at(-1) as Seen, one[0] as Seen)),
    life: NO_LIFE,
  };
}

function seenIn(own: Observation): Seen {
  const day = dayNumber(own.date);
  if (day === null) {
    throw new Refused('not_a_date', `“${own.date}” is no date.`, 'Write it as 2025-03-08.');
  }
  const length = toTenthNm(own.length);
  const given = own.length.uncertainty;
  const uncertainty = given ? toTenthNm(given) : null;
  if (length < 0n || (uncertainty !== null && uncertainty < 0n)) {
    const message = `A crack can't be ${own.length.value} long.`;
    throw new Refused('below_nought', message, 'Leave out the minus.');
  }
  return { own, day, length, uncertainty, unit: own.length.unit };
}

/** Splits observations where the method changes or a stop-hole was drilled. */
function seriesOf(read: Series): Seen[][] {
  const made: Seen[][] = [];
  for (const one of read) {
    const last = made.at(-1);
    const isSame = last && (last.at(-1)?.own.method ?? null) === (one.own.method ?? null);
    if (isSame && !stops(one)) last.push(one);
    else made.push([one]);
  }
  return made;
}

const stops = (one: Seen) => one.own.stop_hole === true;

/** Whether growth is shown: more than the root of both uncertainties squared.

null where an uncertainty is missing. Decided by squares, so exact. */
function isShown(first: Seen, second: Seen): boolean | null {
  if (first.uncertainty === null || second.uncertainty === null) return null;
  const grown = second.length - first.length;
  return grown > 0n && grown ** 2n > first.uncertainty ** 2n + second.uncertainty ** 2n;
}

function isGrown(series: Series): boolean {
  return series.some((b, at) => series.slice(0, at).some((a) => isShown(a, b) === true));
}

function pointOf(series: Series, at: number): CrackPoint {
  const one = series[at] as Seen;
  const before = at > 0 ? (series[at - 1] as Seen) : null;
  return {
    date: one.own.date,
    since_previous: before && growthOf(before, one),
    since_first: before && growthOf(series[0] as Seen, one),
    shorter: before !== null && one.length < before.length,
    growth_shown: isGrown(series.slice(0, at + 1)),
  };
}

function growthOf(first: Seen, second: Seen): Growth {
  const shown = isShown(first, second);
  const square = (first.uncertainty ?? 0n) ** 2n + (second.uncertainty ?? 0n) ** 2n;
  const growth = signed(second.length - first.length, first, second);
  return {
    since: first.own.date,
    growth,
    limit: shown === null ? null : rootText(square, 1n, TENTH_NM[second.unit], PLACES),
    shown,
    words: `Since ${dayWords(first, second)}: ${growthWords(growth, first, second, shown)}`,
  };
}

function growthWords(growth: string, first: Seen, second: Seen, shown: boolean | null): string {
  if (second.length < first.length) {
    return `${growth}, shorter: look again at paint, light and tips`;
  }
  if (shown === null) return `${growth}, no ± given, growth can't be judged`;
  return shown ? `${growth}, growth proved (CK3)` : `${growth}, within ±, no growth proved`;
}

/** Month and day, with the year where it is another. */
function dayWords(first: Seen, second: Seen): string {
  const [one, other] = [first.own.date, second.own.date];
  return one.slice(0, 4) === other.slice(0, 4) ? one.slice(5) : one;
}

/** A growth as finely as the lengths it comes from were typed. */
function signed(length: bigint, first: Seen, second: Seen): string {
  const size = length < 0n ? -length : length;
  const text = roundedText(size, TENTH_NM[second.unit], finest([first, second]));
  return length < 0n ? `−${text}` : `+${text}`;
}

function finest(seen: Series): number {
  return Math.max(...seen.map((one) => placesOf(one.own.length.value)));
}

/** √(part ÷ whole) ÷ unit with so many decimals, half up, exactly. */
export function rootText(part: bigint, whole: bigint, unit: bigint, places: number): string {
  const steps = 10n ** BigInt(places);
  const halves = wholeRoot((part * (2n * steps) ** 2n) / (whole * unit ** 2n));
  return roundedText((halves + 1n) / 2n, steps, places);
}

function ratedOf(rate: Rate | null, series: Series): CrackRate | null {
  const last = series.at(-1);
  if (rate === null || last === undefined) return null;
  const { unit } = last;
  const places = finest(series) + 1;
  const typed = roundedText(rate.slope * 30n, rate.slope_of * TENTH_NM[unit], places);
  const slope = typed.replace('-', '−');
  const error = rootText(rate.square * 900n, rate.square_of, TENTH_NM[unit], places);
  const words = `${slope} ${unit} per 30 days, standard error ${error}, ${series.length} points`;
  return { per_30_days: slope, standard_error: error, unit, points: series.length, words };
}

/** How far it is still to the next hole or edge. */
function leftOf(last: Seen, limit: Quantity, to: string): NonNullable<Crack['left']> {
  const { unit, uncertainty } = last;
  const typed = last.own.length.value;
  const places = Math.max(placesOf(limit.value), placesOf(typed));
  const rest = roundedText(toTenthNm(limit) - last.length, TENTH_NM[unit], places);
  const left = rest.replace('-', '−');
  const given = limit.uncertainty ? toTenthNm(limit.uncertainty) : 0n;
  const square = uncertainty === null ? null : uncertainty ** 2n + given ** 2n;
  const doubt = square === null ? null : rootText(square, 1n, TENTH_NM[unit], places);
  const about = doubt === null ? '' : ` ± ${doubt}`;
  const whole =
    limit.unit === unit ? limit.value : roundedText(toTenthNm(limit), TENTH_NM[unit], places);
  const words = `To ${to}: ${whole} − ${typed} = ${left}${about} ${unit}`;
  return { left, uncertainty: doubt, unit, words };
}

function breakWords(before: Seen, after: Seen): string {
  const { date } = after.own;
  if (stops(after)) {
    return `${date}: stop-hole drilled, a temporary measure; a new series begins.`;
  }
  const [was, now] = [before, after].map((one) => one.own.method || 'no method');
  return `${date}: ${now} in place of ${was}; a new series begins.`;
}

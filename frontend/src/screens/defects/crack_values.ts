/** What a crack's record is drawn from: each length that was written, of one day the last. */

import { type Crack, crack, type Observation } from '../../domain/crack';
import { Refused } from '../../domain/errors';
import { kindGroup } from '../../domain/kinds';
import {
  figureText,
  isQuantity,
  isUnmeasured,
  isWithdrawn,
  type Quantity,
  TENTH_NM,
  tenthNmOrNull,
  toTenthNm,
  type Unit,
} from '../../domain/quantities';
import type { Json, Written } from '../../services/shop';
import { measurementOf } from '../frame/photo_figures';

export function isCrack(kind: string | null): boolean {
  return kindGroup(kind) === 'crack';
}

/** Each length that was written, of one day the last; `fell`: measurements that stand no longer. */
export function observationsOf(
  written: readonly Written[],
  fell: ReadonlySet<string> = new Set(),
): Observation[] {
  const byDay = new Map<string, Observation>();
  const gone = new Set([...goneOf(written), ...fell]);
  for (const { date, value } of written) {
    // A length taken back the same day was no observation.
    if (value === null) byDay.delete(date);
    if (!isQuantity(value) || tenthNmOrNull(value) === null || isUnmeasured(value)) continue;
    // The scale of a photograph was struck since: what it gave was no observation.
    const measurement = measurementOf(value);
    if (measurement !== null && gone.has(measurement)) continue;
    const { method } = value as Quantity & { method?: string };
    byDay.set(date, { date, length: value, ...(method ? { method } : {}) });
  }
  return [...byDay.values()].sort((a, b) => (a.date < b.date ? -1 : 1));
}

/** Measurements withdrawn with their scale, unless the scale stands again: the last word counts. */
function goneOf(written: readonly Written[]): Set<string | null> {
  const gone = new Set<string | null>();
  for (const { value } of written) {
    if (isWithdrawn(value)) gone.add(measurementOf(value));
    else if (isQuantity(value)) gone.delete(measurementOf(value));
  }
  return gone;
}

/** The crack read, or why it can't be. */
export function readCrack(
  observations: readonly Observation[],
  limit: Json | undefined,
): { read: Crack | null; problem: string | null } {
  try {
    const to = isQuantity(limit) ? limit : null;
    return { read: crack(observations, to), problem: null };
  } catch (error) {
    if (error instanceof Refused) return { read: null, problem: error.message };
    throw error;
  }
}

export interface PlotPoint {
  date: string;
  /** Words of the length: "0.81 ± 0.03 in". */
  words: string;
  x: number;
  y: number;
  /** Ends of the ± bar; null where no ± was given. */
  low: number | null;
  high: number | null;
}

export interface Plot {
  points: PlotPoint[];
  /** Where the limit lies, px. */
  limit: number | null;
  /** Marks of the scale of length. */
  marks: { y: number; text: string }[];
}

export interface PlotBox {
  left: number;
  right: number;
  top: number;
  foot: number;
}

/** Days along, lengths up in a unit, from nought to a little over the greatest of lengths and limit. */
export function plotOf(
  observations: readonly Observation[],
  limit: Json | undefined,
  box: PlotBox,
  unit: Unit,
): Plot {
  const inUnit = (quantity: unknown) => Number(toTenthNm(quantity)) / Number(TENTH_NM[unit]);
  const lengths = observations.map(({ length }) => inUnit(length));
  const doubts = observations.map(({ length }) =>
    length.uncertainty ? inUnit(length.uncertainty) : null,
  );
  const end = isQuantity(limit) && tenthNmOrNull(limit) !== null ? inUnit(limit) : null;
  const most = Math.max(
    LEAST[unit],
    end ?? 0,
    ...lengths.map((one, at) => one + (doubts[at] ?? 0)),
  );
  const step = stepFor(most);
  const top_length = Math.ceil((most * 1.05) / step) * step;
  const y = (length: number) => box.foot - (length / top_length) * (box.foot - box.top);
  const days = observations.map(({ date }) => Date.parse(date) / 86_400_000);
  const [from, to] = [Math.min(...days), Math.max(...days)];
  const x = (day: number) =>
    to === from
      ? (box.left + box.right) / 2
      : box.left + ((day - from) / (to - from)) * (box.right - box.left);
  return {
    points: observations.map(({ date, length }, at) => {
      const [is, doubt] = [lengths[at] as number, doubts[at] ?? null];
      const words = figureText(length);
      return {
        ...{ date, words, x: x(days[at] as number), y: y(is) },
        low: doubt === null ? null : y(is - doubt),
        high: doubt === null ? null : y(is + doubt),
      };
    }),
    limit: end === null ? null : y(end),
    marks: Array.from({ length: Math.round(top_length / step) + 1 }, (_, at) => ({
      y: y(at * step),
      text: String(Number((at * step).toFixed(4))),
    })),
  };
}

const LEAST: Readonly<Record<Unit, number>> = { in: 0.01, mm: 0.25 };

/** 1, 2 or 5 times a power of ten, so that four to ten marks fit. */
function stepFor(most: number): number {
  const tens = 10 ** Math.floor(Math.log10(most / 4));
  const times = [1, 2, 5].find((one) => most / (one * tens) <= 10) ?? 10;
  return times * tens;
}

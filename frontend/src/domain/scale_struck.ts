/** Figures whose measurement, scale or photograph no longer stands: told, and not graded on.

Who strikes a scale withdraws the figures that are known there; one that was taken from it
elsewhere meanwhile is found here, whatever came first. */

import { ASKED, rowOf } from './kinds';
import type { DefectRow } from './projection';
import { figureText, isQuantity, isUnmeasured } from './quantities';
import { standingOf, type Values } from './values';
import { type Fields, isFields } from './verdicts';

type Records = Readonly<Record<string, Values>>;
const CODE = 'scale struck';
const REASON =
  'was measured on a photograph by what was struck out or withheld since; it is not graded.';

/** The values of a defect without what fell, and what fell, told. */
export function standingFigures(
  values: Values,
  related: { measurements: Records; scales: Records; photographs: Records },
) {
  const gone = fallen(related.measurements, related.scales, related.photographs);
  return { measured: withoutFallen(values, gone), told: fallenFigures(values, gone) };
}

/** The measurements that no longer stand, by themselves, their scale or photograph. */
export function fallen(measurements: Records, scales: Records, photographs: Records): Set<string> {
  const gone = (records: Records, field: string) => (id: unknown) =>
    typeof id === 'string' && Object.hasOwn(records, id) && isTrue(records[id] as Values, field);
  const found = Object.entries(measurements).filter(
    ([, one]) =>
      isTrue(one, 'struck') ||
      standingOf(one, 'scale').some(gone(scales, 'struck')) ||
      standingOf(one, 'photograph').some(gone(photographs, 'withheld')),
  );
  return new Set(found.map(([id]) => id));
}

/** The values of a defect, each figure that rests on such a measurement withdrawn. */
export function withoutFallen(values: Values, gone: ReadonlySet<string>): Values {
  if (gone.size === 0) return values;
  const withdrawn = ([field, value]: [string, unknown]) => [
    field,
    restsOn(value, gone) ? { ...value, scale_withdrawn: true } : value,
  ];
  return Object.fromEntries(
    Object.entries(values).map(([id, fields]) => [
      id,
      Object.fromEntries(Object.entries(fields).map(withdrawn)),
    ]),
  );
}

/** The figures that stand and are not graded on: entry, reason and `measurement`. */
export function fallenFigures(values: Values, gone: ReadonlySet<string>) {
  if (gone.size === 0) return [];
  return Object.keys(values)
    .sort()
    .flatMap((entry) =>
      Object.entries(values[entry] ?? {})
        .filter(([, value]) => restsOn(value, gone))
        .sort(([one], [other]) => (one < other ? -1 : 1))
        .map(([field, value]) => ({
          ...{ entry, code: CODE, measurement: String((value as Fields).measurement) },
          reason: `${words(field, value)} ${REASON}`,
        })),
    );
}

/** The measurements that fell, on which figures stand, by the row of their defect. */
export function fallenIn(row: Pick<DefectRow, 'not_counting'>): Set<string> {
  const told = row.not_counting.filter(({ code }) => code === CODE);
  return new Set(told.flatMap(({ measurement }) => measurement ?? []));
}

function restsOn(value: unknown, gone: ReadonlySet<string>): value is Record<string, unknown> {
  if (!isFields(value) || isUnmeasured(value)) return false;
  return typeof value.measurement === 'string' && gone.has(value.measurement);
}

function words(field: string, value: unknown): string {
  const [label] = (rowOf(ASKED, field)?.label ?? field.replaceAll('_', ' ')).split(',');
  return isQuantity(value) ? `${label} ${figureText(value)}` : String(label);
}

const isTrue = (values: Values, field: string) => standingOf(values, field).includes(true);

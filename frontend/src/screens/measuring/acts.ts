/** Acts on the scale and the measurements of a photograph. */

import { Refused } from '../../domain/errors';
import type { Measured, Measurement, Scale } from '../../domain/photo_measure';
import { figureText, isQuantity, isUnmeasured } from '../../domain/quantities';
import type { DefectRow, Json, Session, Shop } from '../../services/shop';

export interface ScaleHere extends Scale {
  record: string;
}

export interface MeasurementHere extends Measurement {
  record: string;
  scale: string;
}

export const WITHDRAWN = 'scale withdrawn';

/** The scale that stands on a photograph: one, for a further one is set after it is struck. */
export async function scaleOf(shop: Shop, photograph: string): Promise<ScaleHere | null> {
  const found = await shop.book.related(photograph, 'scale');
  const standing = found.filter((one) => one.struck !== true && Array.isArray(one.points));
  return (standing[0] as unknown as ScaleHere | undefined) ?? null;
}

/** A scale struck while a figure was taken from it on another tablet: what still rests on it. */
export interface Stranded {
  scale: ScaleHere;
  figures: number;
}

/** The first struck scale of a photograph on which figures of the defect still rest, or null. */
export async function strandedOf(
  shop: Shop,
  photograph: string,
  defect: string,
): Promise<Stranded | null> {
  const scales = await shop.book.related(photograph, 'scale');
  const measurements = await shop.book.related(photograph, 'measurement');
  for (const scale of scales.filter(({ struck }) => struck === true)) {
    const mine = measurements.filter((one) => one.scale === scale.record);
    const ids = new Set(mine.map(({ record }) => record));
    const figures = await figuresFrom(shop, defect, ids);
    if (figures.length > 0)
      return { scale: scale as unknown as ScaleHere, figures: figures.length };
  }
  return null;
}

/** Measurements that stand, and so does their scale. */
export async function measurementsOf(
  shop: Shop,
  photograph: string,
  scale: ScaleHere | null,
): Promise<MeasurementHere[]> {
  const found = await shop.book.related(photograph, 'measurement');
  return found.filter(
    (one) => one.struck !== true && one.scale === scale?.record && Array.isArray(one.points),
  ) as unknown as MeasurementHere[];
}

export function setScale(shop: Shop, session: Session, photograph: string, scale: Scale) {
  const set = { photograph, ...(scale as unknown as Record<string, Json>) };
  return shop.book.writeAct(session, [{ record: shop.book.newId(), kind: 'scale', set }]);
}

export async function keepMeasurement(
  shop: Shop,
  session: Session,
  on: { photograph: string; scale: string },
  measurement: Measurement,
): Promise<string> {
  const record = shop.book.newId();
  const set = { ...on, ...(measurement as unknown as Record<string, Json>) };
  await shop.book.writeAct(session, [{ record, kind: 'measurement', set }]);
  return record;
}

/** Refuses once to put a sorting aid in the place of what an instrument says; not when asked again. */
function refuseOverGauge(stood: Json, again: boolean): void {
  if (again || !isQuantity(stood) || !stood.instrument || isUnmeasured(stood)) return;
  throw new Refused(
    'gauge_stands',
    `${stood.instrument} says ${figureText(stood)}: USE AS again replaces it.`,
    'A figure from a photograph is a sorting aid; that of an instrument goes before it.',
  );
}

/** Writes a measurement as a figure of the defect: value, ±, and where it came from. `again`: it
was asked for twice, so it may replace what an instrument says. */
export async function useAs(
  shop: Shop,
  session: Session,
  row: DefectRow,
  field: string,
  from: { measurement: string; scale: string; told: Measured },
  again = false,
) {
  const { value, unit, uncertainty } = from.told;
  const figure = {
    ...{ value, unit, method: 'photograph', measurement: from.measurement },
    uncertainty: { value: uncertainty, unit },
  };
  const on = await Promise.all([from.measurement, from.scale].map((one) => shop.book.values(one)));
  const relies = on.flatMap((one) => Object.values(one).flat()).flatMap(({ entries }) => entries);
  const stood = (await shop.book.plain(row.record))[field] ?? null;
  refuseOverGauge(stood, again);
  const why = stood !== null && row.state !== 'Draft' ? { why: 'measured again' } : {};
  const set = { [field]: figure as unknown as Json };
  const draft = { record: row.record, kind: 'defect', set, relies: [...new Set(relies)], ...why };
  return shop.book.writeAct(session, [draft]);
}

/** Figures of a defect that came from measurements: by field, each with the entries it stands in. */
export async function figuresFrom(shop: Shop, defect: string, measurements: ReadonlySet<string>) {
  const values = await shop.book.values(defect);
  return Object.entries(values).flatMap(([field, some]) =>
    some.flatMap(({ value, entries }) => {
      const figure = value as Record<string, Json> | null;
      if (typeof figure !== 'object' || figure === null) return [];
      if (!measurements.has(figure.measurement as string)) return [];
      return figure.scale_withdrawn === true ? [] : [{ field, figure, entries }];
    }),
  );
}

/** Strikes a scale out, and in the same act withdraws what was measured with it and the figures of
the defect that came from that. */
export async function strikeScale(
  shop: Shop,
  session: Session,
  photograph: string,
  defect: string,
  scale: ScaleHere,
) {
  // Whatever names the scale, struck before or not: a figure may still rest on it.
  const all = (await shop.book.related(photograph, 'measurement')).filter(
    (one) => one.scale === scale.record,
  );
  const figures = await figuresFrom(shop, defect, new Set(all.map(({ record }) => record)));
  const why = WITHDRAWN;
  const struck = { struck: true };
  return shop.book.writeAct(session, [
    ...[scale]
      .filter((one) => one.struck !== true)
      .map(({ record }) => ({ record, kind: 'scale', set: struck, why })),
    ...all
      .filter((one) => one.struck !== true)
      .map(({ record }) => ({ record, kind: 'measurement', set: struck, why })),
    ...byField(figures).map(([field, figure, entries]) => ({
      ...{ record: defect, kind: 'defect', why, seen: { [field]: entries } },
      set: { [field]: { ...figure, scale_withdrawn: true } },
    })),
  ]);
}

type Found = Awaited<ReturnType<typeof figuresFrom>>;

/** One for each field: a second figure from the same scale goes with the first. */
function byField(found: Found): [string, Record<string, Json>, string[]][] {
  const fields = [...new Set(found.map(({ field }) => field))];
  return fields.map((name) => {
    const mine = found.filter(({ field }) => field === name);
    const [first] = mine as [Found[number]];
    return [name, first.figure, mine.flatMap(({ entries }) => entries)];
  });
}

import { stepBay } from '../../domain/place';
import type { DefectRow, Definition, Json, Place, Shop } from '../../services/shop';

/** What is copied from one record to the next: everything found and measured but the picture. */
const COPIED = [
  'kind',
  'material',
  'part',
  'thickness',
  'length',
  'width',
  'depth',
  'cleaned',
  'paint',
  'run',
  'leak',
  'blistered',
  'highly_stressed',
  'fastener',
  'shank_rusted',
];

/** The last record of this person in a structure, the one that *Same again* repeats. */
export function lastOf(
  rows: readonly DefectRow[],
  person: string | undefined,
  structure: string,
): DefectRow | null {
  let last: DefectRow | null = null;
  for (const row of rows)
    if (row.raised_by === person && row.kind && row.structure === structure)
      if (last === null || byNumber(row, last) >= 0) last = row;
  return last;
}

/** One bay aft of a place; the same place at the last bay. */
export function oneBayOn(definition: Definition, place: Place): Place {
  const { place: next } = stepBay(definition, place, 1);
  return next ? { ...next, offset: place.offset } : place;
}

/** What was measured with something there; here it only stands till it is measured. */
const MEASURED = ['length', 'width', 'depth'];

/** Fields of a record that the next one starts with. */
export async function copied(shop: Shop, row: DefectRow): Promise<Record<string, Json>> {
  const values = await shop.book.plain(row.record);
  const kept = COPIED.filter((field) => values[field] !== undefined && values[field] !== null);
  return Object.fromEntries(
    kept.map((field) => [field, asCopied(field, values[field] as Json, row.number ?? '')]),
  );
}

/** A figure that was not measured here says whose it is, and names no instrument. */
export function asCopied(field: string, value: Json, number: string): Json {
  if (!MEASURED.includes(field) || typeof value !== 'object' || value === null) return value;
  const { value: figure, unit } = value as { value?: Json; unit?: Json };
  if (figure === undefined || unit === undefined) return value;
  return { value: figure, unit, method: `as ${number}, not measured here` };
}

/** What a record starts with that is queried to be the same as another: what it is, and the query. */
export async function queried(shop: Shop, row: DefectRow): Promise<Record<string, Json>> {
  const values = await shop.book.plain(row.record);
  const same = ['kind', 'material', 'part'].filter((field) => values[field] != null);
  return {
    ...Object.fromEntries(same.map((field) => [field, values[field] as Json])),
    note: `Query: the same as ${row.number}?`,
  };
}

function byNumber(one: DefectRow, other: DefectRow): number {
  return (one.number ?? '').localeCompare(other.number ?? '');
}

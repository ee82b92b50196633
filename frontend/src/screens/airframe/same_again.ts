import { stepBay } from '../../domain/place';
import { copiedFrom, isQuantity } from '../../domain/quantities';
import type { DefectRow, Definition, Json, Place, Shop } from '../../services/shop';
import { partFields, partsAt } from '../measure/parts';
import { BAY_ONLY, wholeBayOf } from './whole_bay';

/** What a look says of this place as of the last: it comes along as it stands. */
const SEEN = [
  ...['kind', 'material', 'part', 'paint', 'leak', 'blistered'],
  ...['highly_stressed', 'fastener', 'shank_rusted'],
];

/** What was measured there: here it is a hint. What was counted or done there does not come. */
const MEASURED = ['thickness', 'length', 'width', 'depth'];

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
  if (!next) return place;
  return place.precision === BAY_ONLY
    ? wholeBayOf(definition, next)
    : { ...next, offset: place.offset };
}

/** Fields that the record of the next place starts with; its part is drawn there, not copied. */
export async function copied(
  shop: Shop,
  row: DefectRow,
  definition: Definition,
  next: Place,
): Promise<Record<string, Json>> {
  const values = await shop.book.plain(row.record);
  const fields = [...SEEN, ...MEASURED].flatMap((field) => {
    const value = asCopied(field, values[field] ?? null, row.number ?? '');
    return value === null ? [] : [[field, value]];
  });
  const structure = definition.structures.find(({ name }) => name === next.structure);
  const named = (part: unknown, at: Place | null) => String(part).replace(` ${at?.member}`, '');
  const part = partsAt(structure, next).find(
    (one) => named(one.part, next) === named(values.part, row.place),
  );
  return {
    ...Object.fromEntries(fields),
    ...(part ? partFields(part, structure?.unit === 'mm' ? 'mm' : 'in') : {}),
  };
}

/** A figure measured elsewhere as a hint that says whose it is; null: it does not come along. */
export function asCopied(field: string, value: Json, number: string): Json {
  if (!MEASURED.includes(field)) return value;
  if (!isQuantity(value)) return null;
  const { value: figure, unit, method } = value;
  if (method === 'drawing figure') return { value: figure, unit, method };
  return { value: figure, unit, copied_from: copiedFrom(value) || number };
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

/** Which picture of a record is shown first: the one that its figures or marks are read from. */

import type { DefectRow, Shop } from '../../services/shop';
import { measurementOf } from '../frame/photo_figures';
import { useLive } from '../live';
import type { Picture } from '../photograph/pictures';

/** What lies on a photograph. */
export interface Lying {
  /** A figure of the record was measured on it. */
  carries_figure: boolean;
  /** A mark or a measurement stands on it. */
  is_marked: boolean;
}

/** Its place among the photographs, oldest first; undefined until it is known what lies on them. */
export function useFirstPicture(
  shop: Shop,
  row: DefectRow,
  photographs: readonly Picture[],
): number | undefined {
  const names = photographs.map(({ record }) => record).join(' ');
  const lying = useLive(shop, () => lyingOn(shop, row.record, photographs), [row.record, names]);
  return lying && lying.length === photographs.length ? firstOf(photographs, lying) : undefined;
}

/** The newest that a figure rests on, else the newest with marks, else the newest near one. */
export function firstOf(photographs: readonly Picture[], lying: readonly Lying[]): number {
  const with_figure = lying.findLastIndex((one) => one.carries_figure);
  if (with_figure >= 0) return with_figure;
  const marked = lying.findLastIndex((one) => one.is_marked);
  if (marked >= 0) return marked;
  const close = photographs.findLastIndex(({ role }) => role !== 'wide');
  return close < 0 ? photographs.length - 1 : close;
}

/** Reads what lies on each photograph of a record. */
export async function lyingOn(
  shop: Shop,
  record: string,
  photographs: readonly Picture[],
): Promise<Lying[]> {
  const values = await shop.book.plain(record);
  const used = new Set(Object.values(values).map(measurementOf));
  return Promise.all(
    photographs.map(async (picture) => {
      const [marks, measured] = await Promise.all(
        ['mark', 'measurement'].map(async (kind) =>
          (await shop.book.related(picture.record, kind)).filter((one) => one.struck !== true),
        ),
      );
      return {
        carries_figure: (measured ?? []).some((one) => used.has(one.record)),
        is_marked: [...(marks ?? []), ...(measured ?? [])].length > 0,
      };
    }),
  );
}

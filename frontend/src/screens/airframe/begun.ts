import { isHere } from '../../services/of_airframe';
import type { DefectRow, Shop } from '../../services/shop';
import { useLive } from '../live';

/** All records, undefined until they are read; a draft, which nobody has raised yet, is its
author's. */
export function useDefects(shop: Shop): DefectRow[] | undefined {
  return useLive(shop, () => withAuthors(shop), [shop.airframe?.record]);
}

async function withAuthors(shop: Shop): Promise<DefectRow[]> {
  const rows = (await shop.book.defects()).filter((row) => isHere(shop, row));
  const drafts = rows.filter((row) => row.state === 'Draft' && !row.raised_by);
  if (drafts.length === 0) return rows;
  const begun = await shop.book.begunBy(drafts.map((row) => row.record));
  return rows.map((row) =>
    row.state === 'Draft' && !row.raised_by
      ? { ...row, raised_by: begun[row.record] ?? null }
      : row,
  );
}

/** What stands where a count or a list would, until the book is read. */
export const READING = 'reading the book …';

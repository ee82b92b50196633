import type { DefectRow } from '../../services/shop';

/** What an address of the defect book holds besides the record: what is looked for, which list. */
export interface Looked {
  find?: string | undefined;
  list?: string | undefined;
}

/** "A0017": the number as it stands in addresses. */
export function fileNumber(row: Pick<DefectRow, 'number' | 'record'>): string {
  return (row.number ?? row.record).replace('/', '');
}

/** The address of the book with one record on its sheet, or with none. */
export function bookAddress(number: string | undefined, { find, list }: Looked): string {
  const asked = new URLSearchParams();
  if (find?.trim()) asked.set('find', find);
  if (list) asked.set('list', list);
  const query = asked.toString();
  return `/defects${number ? `/${number}` : ''}${query && `?${query}`}`;
}

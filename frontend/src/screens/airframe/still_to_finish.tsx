import type { DefectRow, ScreenProps, Shop } from '../../services/shop';
import { useLive } from '../live';
import { Picked } from './picked';

/** Records to go back to: every draft, and what this person raised with something lacking. */
export function toFinish(rows: readonly DefectRow[], person: string | undefined): DefectRow[] {
  return rows
    .filter((row) => isToFinish(row, person))
    .sort((one, other) => (one.number ?? '').localeCompare(other.number ?? ''));
}

export function isToFinish(row: DefectRow, person: string | undefined): boolean {
  if (row.state === 'Draft') return true;
  return row.state === 'Raised' && row.raised_by === person && lacking(row).length > 0;
}

/** What a record lacks, in the order in which it is best mended. */
export function lacking(row: DefectRow): string[] {
  return [
    row.photographs === 0 ? 'no picture' : row.photographs === 1 ? 'no close picture' : '',
    row.kind ? '' : 'no kind',
    row.kind && !row.grade_known ? 'figures' : '',
    row.tag ? '' : 'no tag',
  ].filter(Boolean);
}

/** Still to finish: each with what it lacks and whose it is; a touch goes on with it. */
export function StillToFinish(props: {
  shop: Shop;
  rows: DefectRow[];
  go: ScreenProps['go'];
  onBack: () => void;
}) {
  const { shop, rows, go } = props;
  const names = useLive(shop, () => shop.people.names(), []) ?? {};
  const mine = shop.session?.person;
  return (
    <Picked
      label="Still to finish"
      back="still to finish"
      onBack={props.onBack}
      options={rows.map((row) => ({
        label: row.number ?? '',
        second: [
          [row.state === 'Draft' ? 'draft' : '', ...lacking(row)].filter(Boolean).join(', '),
          row.raised_by && row.raised_by !== mine ? (names[row.raised_by] ?? '') : '',
        ]
          .filter(Boolean)
          .join('\n'),
        onPick: () => go(`/airframe/${(row.number ?? '').replace('/', '')}`),
      }))}
    />
  );
}

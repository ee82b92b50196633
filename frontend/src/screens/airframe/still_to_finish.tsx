import { ASKED } from '../../domain/kinds';
import type { DefectRow, ScreenProps, Shop } from '../../services/shop';
import { useLive } from '../live';
import { Picked } from './picked';

/** What keeps a grade open: *figures*, and each question of yes or no by its own name. */
function open({ missing, copied }: DefectRow): string[] {
  const asked = missing.filter((field) => ASKED[field]?.type === 'yes_no');
  const figures = copied.length > 0 || missing.length === 0 || missing.length > asked.length;
  return [figures ? 'figures' : '', ...asked.map(labelOf)];
}

function labelOf(field: string): string {
  return (ASKED[field]?.label ?? field).toLowerCase();
}

/** Records to go back to: every draft, and what this person raised with something lacking. */
export function toFinish(rows: readonly DefectRow[], person: string | undefined): DefectRow[] {
  return rows
    .filter((row) => isToFinish(row, person))
    .sort(
      (one, other) =>
        rank(one, person) - rank(other, person) ||
        (one.number ?? '').localeCompare(other.number ?? ''),
    );
}

/** One's own open drafts first, then what one raised, then the drafts of others. */
function rank(row: DefectRow, person: string | undefined): number {
  if (row.raised_by !== person) return 2;
  return row.state === 'Draft' ? 0 : 1;
}

/** The last draft that a person left open on this tablet. */
export function openDraft(
  rows: readonly DefectRow[],
  person: string | undefined,
  letter: string | null | undefined,
): DefectRow | undefined {
  return rows
    .filter((row) => row.state === 'Draft' && row.raised_by === person)
    .filter((row) => row.number?.split('/')[0] === letter)
    .sort((one, other) => (other.number ?? '').localeCompare(one.number ?? ''))[0];
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
    ...(row.kind && (!row.grade_known || row.copied.length > 0) ? open(row) : []),
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

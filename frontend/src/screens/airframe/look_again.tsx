import type { DefectRow, ScreenProps } from '../../services/shop';
import { HAND_SHORT } from './hands';
import { Picked } from './picked';

/** What is asked in a record to be looked at again. */
export function questionOf(row: DefectRow): string {
  const { ask } = (row.look_again ?? {}) as { ask?: unknown };
  return typeof ask === 'string' && ask !== '' ? ask : 'look again';
}

/** Records that the lead asked this tablet to look at again, nose to tail; a desk shows all. */
export function toLookAgain(rows: readonly DefectRow[], letter: string | null = null): DefectRow[] {
  const isMine = ({ tablet }: { tablet?: unknown }) =>
    letter === null || (tablet ?? letter) === letter;
  return rows
    .filter((row) => row.look_again && isMine(row.look_again))
    .sort((one, other) => Number(one.station) - Number(other.station));
}

/** Look again: each with its place and what is asked; a touch opens it. */
export function LookAgain(props: { rows: DefectRow[]; go: ScreenProps['go']; onBack: () => void }) {
  const { rows, go } = props;
  return (
    <Picked
      label="Look again"
      back="look again"
      onBack={props.onBack}
      options={rows.map((row) => ({
        label: row.number ?? '',
        second: `${HAND_SHORT[row.hand ?? ''] ?? ''} ${row.member ?? ''}\n${questionOf(row)}`,
        onPick: () => go(`/airframe/${(row.number ?? '').replace('/', '')}`),
      }))}
    />
  );
}

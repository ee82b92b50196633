import type { DefectRow, ScreenProps } from '../../services/shop';
import { HAND_SHORT } from './hands';
import { Picked } from './picked';

/** What is asked in a record to be looked at again. */
export function questionOf(row: DefectRow): string {
  const { question } = (row.look_again ?? {}) as { question?: unknown };
  return typeof question === 'string' && question !== '' ? question : 'look again';
}

/** Records that the lead asked to be looked at again, nose to tail. */
export function toLookAgain(rows: readonly DefectRow[]): DefectRow[] {
  return rows
    .filter((row) => row.look_again !== null)
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

import { useEffect } from 'preact/hooks';
import type { DefectRow, Place, ScreenProps } from '../../services/shop';
import { HAND_SHORT } from './hands';
import { Picked } from './picked';

/** What is asked in a record to be looked at again. */
export function questionOf(row: DefectRow): string {
  const { ask } = (row.look_again ?? {}) as { ask?: unknown };
  return typeof ask === 'string' && ask !== '' ? ask : 'look again';
}

export { toLookAgain } from './to_look_again';

/** Look again: each with its place and what is asked; a touch opens it. */
export function LookAgain(props: {
  rows: DefectRow[];
  go: ScreenProps['go'];
  /** Brings the drawing to where a record lies. */
  onPlace: (place: Place) => void;
  onBack: () => void;
}) {
  const { rows, go, onPlace } = props;
  const only = rows.length === 1 ? rows[0] : undefined;
  // One that is asked is shown where it lies; of several each when it is touched.
  useEffect(() => {
    if (only?.place) onPlace(only.place);
  }, [only?.record]);
  return (
    <Picked
      label="Look again"
      back="look again"
      onBack={props.onBack}
      options={rows.map((row) => ({
        label: row.number ?? '',
        second: `${HAND_SHORT[row.hand ?? ''] ?? ''} ${row.member ?? ''}\n${questionOf(row)}`,
        onPick: () => {
          if (row.place && row !== only) onPlace(row.place);
          go(`/airframe/${(row.number ?? '').replace('/', '')}`);
        },
      }))}
    />
  );
}

import { useState } from 'preact/hooks';
import { Key } from '../../furniture';
import type { DefectRow, Definition, Shop } from '../../services/shop';
import { HAND_SHORT, HAND_WORDS, opposite } from './hands';
import { Picked } from './picked';

const MOST = 8;
export const WRONG_HAND = 'wrong hand entered';

/** The last records of a person that lie on the hand of the very last one, newest first. */
export function lastOnOneHand(
  rows: readonly DefectRow[],
  person: string | undefined,
  definition: Definition,
): DefectRow[] {
  const mine = rows
    .filter((row) => row.raised_by === person && MOVABLE.includes(row.state ?? ''))
    .filter((row) => row.place && opposite(definition, row.place))
    .sort((one, other) => (other.number ?? '').localeCompare(one.number ?? ''));
  const [last] = mine;
  return mine.filter((row) => row.hand === last?.hand).slice(0, MOST);
}

/** Those left alone unless touched: all that were not raised today on this tablet. */
export function leftOut(
  rows: readonly DefectRow[],
  letter: string | undefined,
  today: string,
): ReadonlySet<string> {
  const [last] = rows;
  const isNow = (row: DefectRow) =>
    row === last || (row.raised_on === today && row.number?.split('/')[0] === letter);
  return new Set(rows.filter((row) => !isNow(row)).map((row) => row.record));
}

/** States in which what was found may still be put right by who found it. */
const MOVABLE = ['Draft', 'Raised'];

/** Move these to starboard: which of the last records, then all of them in one act. */
export function OtherHand(props: {
  shop: Shop;
  definition: Definition;
  rows: DefectRow[];
  run: (work: () => Promise<void>) => void;
  onBack: () => void;
}) {
  const { shop, definition, rows, run, onBack } = props;
  const [left_out, setLeftOut] = useState(() =>
    leftOut(rows, shop.device?.letter ?? undefined, shop.today()),
  );
  const chosen = rows.filter((row) => !left_out.has(row.record));
  const to = rows[0]?.hand === 'P' ? 'S' : 'P';
  const turn = (record: string) => {
    const next = new Set(left_out);
    if (!next.delete(record)) next.add(record);
    setLeftOut(next);
  };
  const move = () =>
    run(async () => {
      if (!shop.session) return;
      const places = chosen.flatMap(({ record, place }) => {
        const other = place && opposite(definition, place);
        return other ? [{ record, place: other }] : [];
      });
      await shop.capture.movePlaces(shop.session, places, WRONG_HAND);
      onBack();
    });
  const these = chosen.length === 1 ? 'THIS ONE' : `THESE ${chosen.length}`;
  return (
    <Picked
      label="Records to move"
      back="nothing moved"
      onBack={onBack}
      words={`Your last to ${(HAND_WORDS[rows[0]?.hand ?? ''] ?? '').toLowerCase()}. Touch one to take it in or leave it there.`}
      options={rows.map((row) => ({
        label: row.number ?? '',
        second: `${HAND_SHORT[row.hand ?? '']} ${row.member ?? ''} ${(row.kind_words ?? '').toLowerCase()}`,
        chosen: !left_out.has(row.record),
        onPick: () => turn(row.record),
      }))}
      main={
        <Key
          label={`MOVE ${these}\nTO ${(HAND_WORDS[to] ?? '').toUpperCase()}`}
          second="one step; the old place stays in the history"
          kind="main"
          size="inside"
          place="choice-main"
          letters={28}
          unavailable={chosen.length > 0 ? undefined : 'none is chosen'}
          onPress={move}
        />
      }
    />
  );
}

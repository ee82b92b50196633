import { useState } from 'preact/hooks';
import { Key, KeyRow } from '../../furniture';
import { rowsOfPair } from '../../services/pairs';
import type { Json } from '../../services/shop';
import type { Picture } from '../photograph/pictures';
import { MoveKeys } from './move_keys';
import { PairQuestion } from './pair_question';
import type { RecordProps } from './record_sheet';
import { Rolling } from './rolling';
import { ChooseStrips } from './two_values';

/** What is asked of the person at this record: its questions one after the other, then its moves. */
export function AskedHere(
  props: RecordProps & { values: Record<string, Json>; photographs: Picture[] },
) {
  const { shop, row, rows, pairs, go } = props;
  const [shown, setShown] = useState<string | null>(null);
  const open = pairs.filter(
    ({ records, decided }) => decided === null && records.includes(row.record),
  );
  const asked = open.flatMap((pair) => {
    const both = rowsOfPair(pair, rows);
    return both ? [{ pair, both }] : [];
  });
  const values = row.two_values.filter((field) => field !== 'state');
  const parts = [
    ...(values.length > 0 ? [{ id: 'values', label: 'Two values' }] : []),
    ...asked.map(({ pair }) => ({
      id: pair.id,
      label: pair.query === 'same defect' ? 'Same defect?' : 'Wrong hand?',
    })),
    { id: 'moves', label: 'Moves' },
  ];
  // What was put off stands back: the moves come first then.
  const first = values.length > 0 ? 'values' : asked.find(({ pair }) => !pair.is_later)?.pair.id;
  const now = parts.find(({ id }) => id === shown)?.id ?? first ?? 'moves';
  const pair = asked.find(({ pair: one }) => one.id === now);
  return (
    <section class="record-asked" aria-label="What is asked">
      {parts.length > 1 && (
        <KeyRow apart="desk" label="Asked of this record">
          {parts.map(({ id, label }) => (
            <Key
              key={id}
              label={label}
              size="small"
              letters={18}
              chosen={now === id}
              onPress={() => setShown(id)}
            />
          ))}
        </KeyRow>
      )}
      <Rolling key={now} label="What is asked" place="asked-rolls">
        {now === 'values' && <ChooseStrips {...props} />}
        {pair && <PairQuestion shop={shop} pair={pair.pair} rows={pair.both} go={go} />}
        {now === 'moves' && <MoveKeys {...props} />}
      </Rolling>
    </section>
  );
}

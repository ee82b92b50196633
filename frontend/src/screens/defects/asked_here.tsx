import { DeskKey, KeyRow } from '../../furniture';
import { type AskedPair, pairsOf, rowsOfPair } from '../../services/pairs';
import type { DefectRow, Json } from '../../services/shop';
import type { Picture } from '../photograph/pictures';
import { MoveKeys } from './move_keys';
import { PairQuestion } from './pair_question';
import type { RecordProps } from './record_sheet';
import { Rolling } from './rolling';
import { ChooseStrips } from './two_values';

/** What is asked at a record: its questions and its moves, and the one that is shown. */
export interface AskedOf {
  parts: { id: string; label: string }[];
  now: string;
  pairs: { pair: AskedPair; both: readonly [DefectRow, DefectRow] }[];
}

/** The parts in their order; what was put off stands back, so that the moves come first then. */
export function askedOf({ row, rows, pairs }: RecordProps, shown: string | null): AskedOf {
  const open = pairsOf(row.record, pairs)
    .filter(({ decided }) => decided === null)
    .flatMap((pair) => {
      const both = rowsOfPair(pair, rows);
      return both ? [{ pair, both }] : [];
    });
  const hasValues = row.two_values.some((field) => field !== 'state');
  const parts = [
    ...(hasValues ? [{ id: 'values', label: 'Two values' }] : []),
    ...open.map(({ pair }) => ({
      id: pair.id,
      label: pair.query === 'same defect' ? 'Same defect?' : 'Wrong hand?',
    })),
    { id: 'moves', label: 'Moves' },
  ];
  const pair = open.find(({ pair: one }) => !one.is_later)?.pair.id;
  const first = hasValues ? 'values' : (pair ?? 'moves');
  return { parts, now: parts.find(({ id }) => id === shown)?.id ?? first, pairs: open };
}

/** Keys between the questions of a record and its moves. */
export function AskedKeys({ asked, onShow }: { asked: AskedOf; onShow: (id: string) => void }) {
  if (asked.parts.length < 2) return null;
  return (
    <KeyRow apart="desk" label="Asked of this record">
      {asked.parts.map(({ id, label }) => (
        <DeskKey key={id} label={label} chosen={asked.now === id} onPress={() => onShow(id)} />
      ))}
    </KeyRow>
  );
}

/** What is asked of the person at this record: a question, or its moves. */
export function AskedHere(
  props: RecordProps & {
    asked: AskedOf;
    values: Record<string, Json>;
    photographs: Picture[];
    onForm: (is_open: boolean) => void;
  },
) {
  const { shop, asked, go } = props;
  const { now } = asked;
  const pair = asked.pairs.find(({ pair: one }) => one.id === now);
  return (
    <section class="record-asked" aria-label="What is asked">
      <Rolling key={now} label="What is asked" place="asked-rolls">
        {now === 'values' && <ChooseStrips {...props} />}
        {pair && <PairQuestion shop={shop} pair={pair.pair} rows={pair.both} go={go} />}
        {now === 'moves' && <MoveKeys {...props} />}
      </Rolling>
    </section>
  );
}

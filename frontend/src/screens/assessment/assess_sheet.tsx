import { useState } from 'preact/hooks';
import { DeskKey } from '../../furniture';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { fileNumber } from '../defects/address';
import { DeferralLine } from '../defects/decided_lines';
import { Details, HeadPicture } from '../defects/details';
import { Figures } from '../defects/figures';
import { RecordHead } from '../defects/head';
import { MoveKeys } from '../defects/move_keys';
import { ChooseStrips } from '../defects/two_values';
import { useLive } from '../live';
import { usePhotographs } from '../photograph/pictures';
import { AssessKeys } from './assess_keys';
import type { Ordered } from './order';
import type { Progress } from './sitting';

type Props = ScreenProps & {
  row: DefectRow;
  ordered: Ordered[];
  stages: string[];
  progress: Progress;
};

/** One record to be assessed: what and how bad, its place in the order, pictures, rules, keys. */
export function AssessSheet(props: Props) {
  const { shop, row } = props;
  const { session } = shop;
  const values = useLive(shop, () => shop.book.plain(row.record), [row.record]);
  const photographs = usePhotographs(shop, row.record) ?? [];
  const open = useLive(shop, () => (session ? shop.moves.open(session, row.record) : noMoves()), [
    row.record,
    session?.person,
  ]);
  const [is_asking, setAsking] = useState(false);
  if (!values || !open) return null;
  const proposed = typeof values.proposed === 'string' ? values.proposed : null;
  return (
    <article class={is_asking ? 'record assess-sheet asking' : 'record assess-sheet'}>
      <RecordHead
        row={row}
        values={values}
        picture={is_asking && <HeadPicture {...{ shop, row, photographs }} />}
      />
      <OrderLine {...props} />
      <ChooseStrips {...props} />
      <div class="assess-desk">
        <div class="assess-seen">
          <DeferralLine shop={shop} row={row} />
          <Details shop={shop} row={row} photographs={photographs} />
          <Figures shop={shop} row={row} values={values} section={false} />
        </div>
        {open.includes('assess') && (
          <AssessKeys shop={shop} row={row} proposed={proposed} stages={props.stages} />
        )}
      </div>
      <MoveKeys {...props} {...{ values, photographs }} without="assess" onForm={setAsking} />
    </article>
  );
}

async function noMoves(): Promise<string[]> {
  return [];
}

/** Where it stands in the order and why, with keys to the ones beside it. */
function OrderLine({ row, ordered, progress, go }: Props) {
  const at = ordered.findIndex((one) => one.row.record === row.record);
  const here = ordered[at];
  const before = at > 0 ? ordered[at - 1] : undefined;
  // Of a record that is decided, the next is the first that still waits.
  const next = ordered[at + 1] ?? (at < 0 ? ordered[0] : undefined);
  return (
    <nav class="order-line" aria-label="Order of assessment">
      <div>
        <p>
          <b>{here ? `Place ${at + 1} of ${ordered.length}` : 'Decided'}</b>
          {here && ` · ${here.after}`}
        </p>
        <p>
          {here?.reason}
          {progress.done > 0 && ` ${progress.done} of ${progress.all} decided today.`}
        </p>
      </div>
      {before && (
        <DeskKey
          label={`Before: ${before.row.number}`}
          onPress={() => go(`/assessment/${fileNumber(before.row)}`)}
        />
      )}
      <DeskKey
        label={next ? `Next: ${next.row.number}` : 'Next'}
        kind={here ? 'plain' : 'main'}
        unavailable={next ? undefined : ordered.length > 0 ? 'the last one' : 'nothing waits'}
        onPress={() => next && go(`/assessment/${fileNumber(next.row)}`)}
      />
    </nav>
  );
}

import { useState } from 'preact/hooks';
import { figureText, isUnmeasured, isWithdrawn, unmeasuredWords } from '../../domain/quantities';
import { DeskKey, KeyRow, Question } from '../../furniture';
import {
  type AskedPair,
  decideLater,
  decideSame,
  decideTwo,
  decideWrongHand,
  handWord,
  moveToOtherHand,
  reasonsFor,
} from '../../services/pairs';
import type { DefectRow, Entry, Json, Session, Shop } from '../../services/shop';
import { usePicture } from '../frame/picture_here';
import { RecordMark } from '../frame/record_mark';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { useLive } from '../live';
import { usePhotographs, whenWords } from '../photograph/pictures';

type Both = readonly [DefectRow, DefectRow];

/** Same defect, or a wrong hand? Both records side by side, with the reason for the question. */
export function PairQuestion(props: {
  shop: Shop;
  pair: AskedPair;
  rows: Both;
  go: (address: string) => void;
}) {
  const { shop, pair, rows } = props;
  const { session } = shop;
  const [asks_hand, setAsksHand] = useState(false);
  const { trouble, busy, run } = useTrouble();
  const reasons = reasonsFor(pair, rows, session);
  const isSame = pair.query === 'same defect';
  const decide = (work: (session: Session) => Promise<Entry[]>) =>
    run(async () => {
      if (session) await work(session);
      setAsksHand(false);
    });
  const wait = busy ? 'a moment …' : undefined;
  return (
    <Question
      title={isSame ? 'Same defect?' : 'Wrong hand?'}
      text={pair.reason}
      aside={asks_hand ? undefined : 'Both numbers live on.\nBoth count until decided.'}
      keys={
        asks_hand ? (
          <HandKeys shop={shop} rows={rows} decide={decide} onLeave={() => setAsksHand(false)} />
        ) : (
          <>
            <DeskKey
              label="Same defect"
              kind={isSame ? 'main' : 'plain'}
              unavailable={reasons.same ?? wait}
              onPress={() => decide((one) => decideSame(shop, one, pair))}
            />
            <DeskKey
              label="Two defects"
              unavailable={reasons.two ?? wait}
              onPress={() => decide((one) => decideTwo(shop, one, pair))}
            />
            <DeskKey
              label="Wrong hand"
              kind={isSame ? 'plain' : 'main'}
              unavailable={reasons.wrong ?? wait}
              onPress={() => setAsksHand(true)}
            />
            <DeskKey
              label="Decide later"
              unavailable={reasons.later ?? wait}
              onPress={() => decide((one) => decideLater(shop, one, pair))}
            />
          </>
        )
      }
    >
      <TroubleNote trouble={trouble} />
      <div class="pair-sides">
        <PairTable shop={shop} rows={rows} />
        {rows.map((row) => (
          <PairPicture key={row.record} shop={shop} row={row} />
        ))}
      </div>
    </Question>
  );
}

/** Which of the two was entered for the wrong hand, and what becomes of it. */
function HandKeys(props: {
  shop: Shop;
  rows: Both;
  decide: (work: (session: Session) => Promise<Entry[]>) => void;
  onLeave: () => void;
}) {
  const { shop, rows, decide } = props;
  const [one, other] = rows;
  const ways = [
    [other, one],
    [one, other],
  ] as const;
  return (
    <KeyRow apart="desk" label="Which was entered for the wrong hand?">
      {ways.map(([wrong, right]) => (
        <DeskKey
          key={wrong.record}
          label={`${wrong.number} is the wrong one`}
          second={`raised in error; ${right.number} stays ${handWord(right.hand)}`}
          unavailable={wrong.state === 'Cleared' ? `${wrong.number} is cleared` : undefined}
          onPress={() => decide((session) => decideWrongHand(shop, session, wrong, right))}
        />
      ))}
      {ways.map(([wrong, right]) => (
        <DeskKey
          key={wrong.record}
          label={`${wrong.number} lies to ${handWord(right.hand)}`}
          second="its place is put right"
          onPress={() => decide((session) => moveToOtherHand(shop, session, wrong, right))}
        />
      ))}
      <DeskKey label="Not now" onPress={props.onLeave} />
    </KeyRow>
  );
}

function PairTable({ shop, rows }: { shop: Shop; rows: Both }) {
  const names = useLive(shop, () => shop.people.names(), []) ?? {};
  const [one, other] = rows;
  const first = useLive(shop, () => shop.book.plain(one.record), [one.record]) ?? {};
  const second = useLive(shop, () => shop.book.plain(other.record), [other.record]) ?? {};
  const isRow = [first, second].some((values) => values.run !== undefined);
  return (
    <table class="pair-table">
      <thead>
        <tr>
          <td />
          <th scope="col">seen</th>
          <th scope="col">by</th>
          <th scope="col">length</th>
          <th scope="col">{isRow ? 'in a row' : 'depth'}</th>
          <th scope="col">state</th>
          <th scope="col">grade</th>
        </tr>
      </thead>
      <tbody>
        {(
          [
            [one, first],
            [other, second],
          ] as const
        ).map(([row, values]) => (
          <tr key={row.record}>
            <th scope="row">{row.number}</th>
            <td>{row.raised_on ?? '–'}</td>
            <td>{names[row.raised_by ?? ''] ?? '–'}</td>
            <td>{figure(values.length)}</td>
            <td>{figure(isRow ? values.run : values.depth)}</td>
            <td>{row.state}</td>
            <td>
              <RecordMark row={row} plain size={34} spoken />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** "5.5 ± 0.1 in"; what was not measured says so. */
function figure(value: Json | undefined): string {
  if (isUnmeasured(value)) return isWithdrawn(value) ? unmeasuredWords(value) : 'not measured';
  return figureText(value) || String(value ?? '–');
}

function PairPicture({ shop, row }: { shop: Shop; row: DefectRow }) {
  const photographs = usePhotographs(shop, row.record) ?? [];
  const picture = photographs.findLast(({ role }) => role !== 'wide') ?? photographs.at(-1);
  const { url } = usePicture(shop, picture?.sha256, 320);
  return (
    <figure class="pair-picture">
      <figcaption>{row.number}</figcaption>
      {picture && url ? (
        <img
          class={picture.mirrored ? 'mirrored' : undefined}
          src={url}
          alt={`${row.number}, ${picture.role}, ${whenWords(picture)}`}
          width="120"
          height="90"
        />
      ) : (
        <p>{picture ? 'on its way …' : 'no photograph'}</p>
      )}
    </figure>
  );
}

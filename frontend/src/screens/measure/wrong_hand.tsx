import { useEffect, useMemo, useState } from 'preact/hooks';
import { type Pair, type PairDecision, pairs } from '../../domain/pairs';
import { DetailPicture, Key, Question } from '../../furniture';
import type { DefectRow, Definition, Shop } from '../../services/shop';
import { HAND_WORDS, opposite } from '../airframe/hands';
import { WRONG_HAND } from '../airframe/other_hand';
import { useLive } from '../live';
import { MarksOn } from '../photograph/marks_on';
import { usePhotograph, usePhotographs } from '../photograph/pictures';

/** Records along the structure that can be in a pair with this one. */
const REACH = 24;

/** Pairs that this record is in and nobody has decided: the same defect, or the wrong hand. */
export function usePairs(shop: Shop, row: DefectRow): Pair[] {
  const rows = useLive(shop, () => shop.book.defects(), []);
  const decisions = useLive(shop, () => shop.book.records('pair'), []);
  const { definition } = shop;
  // Among thousands of records this is the work of a second: once a change, never once a key.
  return useMemo(
    () => pairsOf(row, rows ?? [], (decisions ?? []) as PairDecision[], definition),
    [row, rows, decisions, definition],
  );
}

function pairsOf(
  row: DefectRow,
  rows: readonly DefectRow[],
  decisions: PairDecision[],
  definition: Definition | null,
): Pair[] {
  if (!row.kind || !row.place) return [];
  const own = rows.filter((one) => one.airframe === row.airframe);
  const near = own.filter(
    (one) =>
      one.record === row.record ||
      one.place?.member === row.place?.member ||
      Math.abs(Number(one.station) - Number(row.station)) <= REACH,
  );
  return pairs(near, definition, decisions).filter(
    (pair) => pair.records.includes(row.record) && pair.decided === null,
  );
}

/** Whether this person said of a record that its hand is right, and the way to say so. */
export function useHandKept(shop: Shop, record: string): [boolean, () => void] {
  const name = `hand kept/${record}`;
  const [kept, setKept] = useState(false);
  const { session } = shop;
  useEffect(() => {
    if (session)
      shop.drafts.read(session, name).then(
        (found) => setKept(found === true),
        () => undefined,
      );
  }, [shop, session?.person, name]);
  const keep = () => {
    setKept(true);
    if (session) void shop.drafts.write(session, name, true);
  };
  return [kept, keep];
}

/** Same place, other hand – sure? Asked once, with both pictures; move or keep. */
export function WrongHand(props: {
  shop: Shop;
  row: DefectRow;
  pair: Pair;
  run: (work: () => Promise<void>) => unknown;
  onKeep: () => void;
}) {
  const { shop, row, pair, run, onKeep } = props;
  const other = pair.records.find((one) => one !== row.record) ?? '';
  const place = row.place && shop.definition ? opposite(shop.definition, row.place) : null;
  const word = (hand: string | undefined) => (HAND_WORDS[hand ?? ''] ?? '').toUpperCase();
  const move = () =>
    run(async () => {
      if (!shop.session || !place) return;
      await shop.capture.movePlaces(shop.session, [{ record: row.record, place }], WRONG_HAND);
    });
  return (
    <Question
      title="Same place, other hand – sure?"
      text={pair.reason}
      aside="Both numbers live on."
      keys={
        <>
          <Key
            label={`MOVE ${row.number}\nTO ${word(place?.hand)}`}
            size="inside"
            unavailable={place ? undefined : 'no such place there'}
            onPress={move}
          />
          <Key label={`KEEP\n${word(row.hand ?? undefined)}`} size="inside" onPress={onKeep} />
        </>
      }
    >
      <div class="side-by-side">
        <Beside shop={shop} record={row.record} words={`${row.number} ${word(row.hand ?? '')}`} />
        <Beside
          shop={shop}
          record={other}
          words={`${pair.numbers[pair.records.indexOf(other)] ?? ''} ${word(place?.hand)}`}
        />
      </div>
    </Question>
  );
}

/** Last picture of one of the two. */
function Beside({ shop, record, words }: { shop: Shop; record: string; words: string }) {
  const last = usePhotographs(shop, record)?.at(-1);
  const url = usePhotograph(shop, last?.sha256, 1000);
  if (!last || !url) return <p class="beside-none">{words}: no picture here</p>;
  return (
    <DetailPicture
      src={url}
      alt={words}
      width_px={last.width_px}
      height_px={last.height_px}
      mirrored={last.mirrored}
      heading={words}
    >
      <MarksOn shop={shop} photograph={last.record} />
    </DetailPicture>
  );
}

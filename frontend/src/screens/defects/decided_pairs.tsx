import { useMemo } from 'preact/hooks';
import { DeskKey } from '../../furniture';
import { type AskedPair, askAgain } from '../../services/pairs';
import type { DefectRow, Session, Shop, Undoable } from '../../services/shop';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { useLive } from '../live';
import { fileNumber } from './address';

export interface DecidedPair {
  pair: AskedPair;
  both: readonly [DefectRow, DefectRow];
}

/** What was decided of this record and another, with the way back. */
export function DecidedPairs(props: {
  shop: Shop;
  row: DefectRow;
  decided: DecidedPair[];
  go: (address: string) => void;
}) {
  const { decided } = props;
  if (decided.length === 0) return null;
  return (
    <ul class="decided-pairs" aria-label="Decided of two records">
      {decided.map((one) => (
        <OnePair key={one.pair.id} {...props} one={one} />
      ))}
    </ul>
  );
}

function OnePair({
  shop,
  row,
  one,
  go,
}: Parameters<typeof DecidedPairs>[0] & { one: DecidedPair }) {
  const { session } = shop;
  const { pair, both } = one;
  const other = both.find(({ record }) => record !== row.record) ?? both[0];
  const { trouble, busy, run } = useTrouble();
  const mine = useLive(shop, async () => (session ? await undoneBy(shop, session, pair) : null), [
    pair.id,
    pair.decided,
    session?.person,
  ]);
  const isTwo = both.every(({ state }) => state !== 'Same as' && state !== 'Raised in error');
  const back = () =>
    run(async () => {
      if (!session) return;
      if (mine) await shop.capture.undo(session, mine);
      else await askAgain(shop, session, pair);
    });
  return (
    <li>
      <p>
        <b>{pair.query === 'same defect' ? 'Same defect?' : 'Wrong hand?'}</b> {pair.decided}{' '}
        <small>{pair.reason}</small>
      </p>
      <TroubleNote trouble={trouble} />
      {(mine || isTwo) && (
        <DeskKey
          label={mine ? 'Undo' : 'Ask again'}
          kind="undo"
          spoken={mine ? `Undo: ${pair.decided}` : `Ask again: ${pair.decided}`}
          unavailable={
            session?.role !== 'lead' ? 'the lead decides' : busy ? 'a moment …' : undefined
          }
          onPress={back}
        />
      )}
      <DeskKey label={`Open ${other.number}`} onPress={() => go(`/defects/${fileNumber(other)}`)} />
    </li>
  );
}

const DECIDING = ['same as', 'raised in error'];

/** The record whose last act of this person here decided the pair; null: it is no more undone. */
async function undoneBy(shop: Shop, session: Session, pair: AskedPair): Promise<string | null> {
  for (const record of [pair.id, ...pair.records]) {
    const { next } = await shop.capture.undoable(session, record);
    if (next && decides(next, pair)) return record;
  }
  return null;
}

function decides(next: NonNullable<Undoable['next']>, pair: AskedPair): boolean {
  if (next.kind === 'pair') return next.records.includes(pair.id);
  return next.move !== null && DECIDING.includes(next.move);
}

/** How near a record counts as a neighbour, in units of its structure. */
const NEAR = 6;

/** Records within 6 in of this one on its structure, each a way to its sheet. */
export function Neighbours({ row, rows }: { row: DefectRow; rows: readonly DefectRow[] }) {
  const near = useMemo(() => neighboursOf(row, rows), [row, rows]);
  if (near.length === 0) return null;
  return (
    <p class="neighbours">
      <b>Within 6 in along:</b>{' '}
      {near.map((one, at) => (
        <span key={one.record}>
          {at > 0 && ' · '}
          <a href={`/defects/${fileNumber(one)}`}>{one.number}</a> {handText(one)},{' '}
          {apart(row, one)}
        </span>
      ))}
    </p>
  );
}

/** The nearest first; what was raised in error is none. */
export function neighboursOf(row: DefectRow, rows: readonly DefectRow[], most = 6): DefectRow[] {
  if (row.station === null) return [];
  const away = (one: DefectRow) => Math.abs(Number(one.station) - Number(row.station));
  return rows
    .filter(
      (one) =>
        one.record !== row.record &&
        one.structure === row.structure &&
        one.station !== null &&
        one.state !== 'Raised in error' &&
        away(one) <= NEAR,
    )
    .sort((one, other) => away(one) - away(other))
    .slice(0, most);
}

const handText = ({ hand }: DefectRow) =>
  hand === 'P' ? 'port' : hand === 'S' ? 'starboard' : 'centreline';

function apart(row: DefectRow, other: DefectRow): string {
  const by = Math.abs(Number(other.station) - Number(row.station));
  return by === 0 ? 'same station' : `${Number(by.toFixed(3))} in off`;
}

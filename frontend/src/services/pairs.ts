/** Questions about two records: what is open, and how each is decided; every decision can be undone. */

import { coupleKey, type Pair, type PairDecision, pairs, TWO_DEFECTS } from '../domain/pairs';
import { sha256Hex } from '../domain/sha256';
import type { DefectRow, Definition, Entry, Json, Place, Session, Shop } from './shop';

export const LATER = 'decide later';

export interface AskedPair extends Pair {
  /** Record of kind `pair` that holds what was decided of it. */
  id: string;
  /** Put off by a lead: asked last. */
  is_later: boolean;
}

/** A record of kind `pair` as it stands. */
export type PairRecord = PairDecision & { record: string };

/** The id of what is decided of two records: the same on every device, whichever comes first. */
export function pairId(query: string, first: string, second: string): string {
  return `pair-${sha256Hex(coupleKey(query, first, second)).slice(0, 40)}`;
}

/** Every pair that is asked about, decided ones with what was decided. */
export function askedPairs(
  rows: readonly DefectRow[],
  definition: Definition | null,
  decisions: readonly PairRecord[],
): AskedPair[] {
  const put_off = decisions.filter(({ decided }) => decided === LATER);
  const later = new Set(put_off.map((one) => coupleKey(one.query, one.first, one.second)));
  return pairs(rows, definition, decisions).map((pair) => {
    let id: string | undefined;
    return {
      ...pair,
      // Worked out when it is asked for, and once: of thousands of pairs few are.
      get id() {
        id ??= pairId(pair.query, ...pair.records);
        return id;
      },
      is_later: later.has(coupleKey(pair.query, ...pair.records)),
    };
  });
}

const NAMING = new WeakMap<readonly AskedPair[], Map<string, AskedPair[]>>();

/** The pairs of a record, in their order. The list itself is never changed, so it is read once. */
export function pairsOf(record: string, asked: readonly AskedPair[]): readonly AskedPair[] {
  let naming = NAMING.get(asked);
  if (!naming) {
    naming = new Map();
    for (const pair of asked)
      for (const one of pair.records) {
        const mine = naming.get(one);
        if (mine) mine.push(pair);
        else naming.set(one, [pair]);
      }
    NAMING.set(asked, naming);
  }
  return naming.get(record) ?? [];
}

/** Both rows of a pair. */
export function rowsOfPair(
  { records }: Pick<Pair, 'records'>,
  rows: readonly DefectRow[],
): [DefectRow, DefectRow] | null {
  const [one, other] = records.map((record) => rows.find((row) => row.record === record));
  return one && other ? [one, other] : null;
}

/** Leaves both records as they are. */
export function decideTwo(shop: Shop, session: Session, pair: AskedPair): Promise<Entry[]> {
  return writeDecided(shop, session, pair, TWO_DEFECTS);
}

/** Keeps the question, asked after all others. */
export function decideLater(shop: Shop, session: Session, pair: AskedPair): Promise<Entry[]> {
  return writeDecided(shop, session, pair, LATER);
}

/** Asks again what was left as two or put off. */
export function askAgain(shop: Shop, session: Session, pair: AskedPair): Promise<Entry[]> {
  return writeDecided(shop, session, pair, null);
}

/** One defect: the greater number becomes *same as* the smaller; both live on. */
export function decideSame(shop: Shop, session: Session, pair: AskedPair): Promise<Entry[]> {
  const [first, second] = pair.records;
  return shop.moves.makeMove(session, second, 'same as', { set: { same_as: first } });
}

/** Entered for the wrong hand, and seen there by nobody: raised in error, the other stays. */
export function decideWrongHand(
  shop: Shop,
  session: Session,
  wrong: DefectRow,
  right: DefectRow,
): Promise<Entry[]> {
  const why = `wrong hand entered: ${right.number} is ${handWord(right.hand)}`;
  return shop.moves.makeMove(session, wrong.record, 'raised in error', { why });
}

/** A sighting of its own, entered for the wrong hand: its place is put right. */
export function moveToOtherHand(
  shop: Shop,
  session: Session,
  wrong: DefectRow,
  right: DefectRow,
): Promise<Entry[]> {
  const hand = right.hand as Place['hand'];
  const { place } = wrong;
  if (!place) throw new Error(`${wrong.number} has no place.`);
  const moved = { ...place, hand, structure: right.structure ?? place.structure };
  const why = `wrong hand entered: it lies to ${handWord(hand)}, as ${right.number} does`;
  return shop.capture.movePlaces(session, [{ record: wrong.record, place: moved }], why);
}

/** "starboard". */
export function handWord(hand: string | null): string {
  if (hand === 'P') return 'port';
  return hand === 'S' ? 'starboard' : 'on the centreline';
}

function writeDecided(shop: Shop, session: Session, pair: AskedPair, decided: Json) {
  const [first, second] = pair.records;
  const set = { first, second, query: pair.query, decided };
  return shop.book.writeAct(session, [{ record: pair.id, kind: 'pair', set }]);
}

/** Why a key of the question can't be used; nothing where it can. */
export interface Reasons {
  same: string | undefined;
  two: string | undefined;
  wrong: string | undefined;
  later: string | undefined;
}

/** What each key of a question says when it can't be used. */
export function reasonsFor(
  pair: AskedPair,
  [one, other]: readonly [DefectRow, DefectRow],
  session: Session | null,
): Reasons {
  const who = whoDecides(session);
  if (who) return { same: who, two: who, wrong: who, later: who };
  const isSame = pair.query === 'same defect';
  const both = one.hand === 'C' ? 'both on the centreline' : `both are ${handWord(one.hand)}`;
  return {
    same: isSame ? stateStops(other) : 'on two hands',
    two: undefined,
    wrong: isSame ? both : cleared(one, other),
    later: pair.is_later ? 'put off already' : undefined,
  };
}

function whoDecides(session: Session | null): string | undefined {
  if (session?.role !== 'lead') return 'the lead decides';
  return session.may_decide ? undefined : 'no contact for 14 days';
}

function stateStops(row: DefectRow): string | undefined {
  if (row.states.length > 1) return `${row.number} has two states`;
  return row.states.includes('Same as') ? `${row.number} is set aside` : undefined;
}

function cleared(one: DefectRow, other: DefectRow): string | undefined {
  return one.state === 'Cleared' && other.state === 'Cleared' ? 'both are cleared' : undefined;
}

import { useMemo } from 'preact/hooks';
import { type AskedPair, askedPairs, type PairRecord } from '../../services/pairs';
import { type Question, questionsOf } from '../../services/questions';
import type { DefectRow, Shop } from '../../services/shop';
import { useLive } from '../live';

export interface Asked {
  questions: Question[];
  /** Every pair, decided ones too. */
  pairs: AskedPair[];
}

/** The questions open in the book, worked out anew when a record or a decision changes. */
export function useQuestions(shop: Shop, rows: DefectRow[] | undefined): Asked | undefined {
  const decisions = useLive(shop, () => shop.book.records('pair'), []) as PairRecord[] | undefined;
  const { definition, standard } = shop;
  return useMemo(() => {
    if (!rows || !decisions) return undefined;
    const pairs = askedPairs(rows, definition, decisions);
    return { pairs, questions: questionsOf(rows, pairs, standard) };
  }, [rows, decisions, definition, standard]);
}

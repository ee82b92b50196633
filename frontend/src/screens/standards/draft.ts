import { useEffect, useRef, useState } from 'preact/hooks';
import type { DefinitionTrouble } from '../../services/airframes';
import type { Json, Shop } from '../../services/shop';
import {
  checkStandard,
  listStandards,
  nextIssue,
  type StandardFile,
  type StandardListed,
  type StandardRow,
  standardOf,
} from '../../services/standards';
import { troubleOf } from '../frame/words';

const NAME = 'standard';
const SETTLE_MS = 350;

/** The issues of the book and the file of the one that stands; null where there is none yet. */
export interface Standing {
  listed: StandardListed[];
  file: StandardFile | null;
}

/** Asks the server for the standard that stands, and again after an issue. */
export function useStanding(shop: Shop) {
  const [standing, setStanding] = useState<Standing | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const is_online = shop.session?.online === true;
  const ask = async () => {
    try {
      const listed = await listStandards(shop.api);
      const file = listed[0] ? await standardOf(shop.api, listed[0]) : null;
      setStanding({ listed, file });
      setProblem(null);
    } catch (error) {
      setProblem(troubleOf(error).what);
    }
  };
  useEffect(() => {
    if (is_online) void ask();
  }, [shop, shop.session?.person, is_online]);
  return { standing, problem: is_online ? problem : 'The server is not in reach.', again: ask };
}

export interface Draft {
  made: StandardFile;
  is_draft: boolean;
  set: (next: StandardFile) => void;
  setRow: (at: number, change: Partial<StandardRow>) => void;
  discard: () => void;
}

/** The next issue as it is being written: kept in this browser at every key. */
export function useDraft(shop: Shop, standing: Standing): Draft | null {
  const [made, setMade] = useState<StandardFile | null>(null);
  const [kept, setKept] = useState(false);
  const { session } = shop;
  const stands = standing.file;
  useEffect(() => {
    if (!session) return;
    shop.drafts.read<Json>(session, NAME).then(
      (found) => {
        setKept(found !== null);
        setMade((found as unknown as StandardFile | null) ?? begun(stands));
      },
      () => setMade(begun(stands)),
    );
  }, [shop, session?.person, stands]);
  if (!made || !session) return null;
  const set = (next: StandardFile) => {
    setMade(next);
    setKept(true);
    void shop.drafts.write(session, NAME, next as unknown as Json);
  };
  return {
    made,
    is_draft: kept,
    set,
    setRow: (at, change) => {
      const rows = made.rows.map((row, place) => (place === at ? { ...row, ...change } : row));
      set({ ...made, rows });
    },
    discard: () => {
      setMade(begun(stands));
      setKept(false);
      void shop.drafts.clear(session, NAME);
    },
  };
}

function begun(stands: StandardFile | null): StandardFile {
  if (!stands) return { name: '', issue: '1', rows: [] };
  return { ...stands, issue: nextIssue(stands.issue) };
}

export interface Told {
  troubles: DefinitionTrouble[];
  away: string | null;
  waiting: boolean;
}

/** What the server says of the draft once nothing was typed for a moment. */
export function useTold(shop: Shop, made: StandardFile | undefined, is_draft: boolean): Told {
  const [told, setTold] = useState<Told>({ troubles: [], away: null, waiting: false });
  const turn = useRef(0);
  useEffect(() => {
    const mine = ++turn.current;
    if (!made || !is_draft) {
      setTold({ troubles: [], away: null, waiting: false });
      return;
    }
    setTold((last) => ({ ...last, waiting: true }));
    const tell = (next: Told) => mine === turn.current && setTold(next);
    const timer = setTimeout(() => {
      checkStandard(shop.api, made).then(
        (troubles) => tell({ troubles, away: null, waiting: false }),
        (error) => tell({ troubles: [], away: troubleOf(error).what, waiting: false }),
      );
    }, SETTLE_MS);
    return () => clearTimeout(timer);
  }, [shop, made, is_draft]);
  return told;
}

import { useEffect, useState } from 'preact/hooks';
import type { Shop } from '../../services/shop';

const VISIT = 'assessment/last';
const SITTING = 'assessment/sitting';

/** Day of the visit before this one on this browser; today is kept for the next. */
export function useLastVisit(shop: Shop): string | null {
  const [since, setSince] = useState<string | null>(null);
  const { session } = shop;
  useEffect(() => {
    if (!session) return;
    const today = shop.today();
    const read = async () => {
      const kept = await shop.drafts.read<{ last: string; before: string | null }>(session, VISIT);
      const before = kept && kept.last < today ? kept.last : (kept?.before ?? null);
      setSince(before);
      await shop.drafts.write(session, VISIT, { last: today, before });
    };
    read().catch(() => undefined);
  }, [shop, session?.person]);
  return since;
}

export interface Progress {
  done: number;
  all: number;
}

/** How many of those that waited today are decided: "3 of 10". */
export function progressOf(met: readonly string[], waiting: readonly string[]): Progress {
  const still = new Set(waiting);
  const all = new Set([...met, ...waiting]);
  return { done: [...all].filter((record) => !still.has(record)).length, all: all.size };
}

/** Progress of this person's day; what waited is kept, so that a reload counts on. */
export function useProgress(shop: Shop, waiting: readonly string[] | undefined): Progress {
  const [met, setMet] = useState<readonly string[]>([]);
  const { session } = shop;
  const names = waiting?.join() ?? '';
  useEffect(() => {
    if (!session || waiting === undefined) return;
    const day = shop.today();
    const read = async () => {
      const kept = await shop.drafts.read<{ day: string; records: string[] }>(session, SITTING);
      const before = kept?.day === day ? kept.records : [];
      const records = [...new Set([...before, ...waiting])];
      setMet(records);
      if (records.length > before.length || kept?.day !== day)
        await shop.drafts.write(session, SITTING, { day, records });
    };
    read().catch(() => undefined);
  }, [shop, session?.person, names]);
  return progressOf(met, waiting ?? []);
}

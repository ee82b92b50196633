import { useEffect, useState } from 'preact/hooks';
import type { Json, Shop } from '../../services/shop';

/** How this person is looking today; remembered on this tablet until changed. */
export interface Looking {
  /** What was chosen today, null until somebody chose: no look is stored without both. */
  method: string | null;
  paint: Paint | null;
  /** Day method and paint were chosen; on another day they are asked again. */
  how_day: string | null;
  /** Record id of the survey, where one is chosen. */
  survey: string | null;
  /** Name of the instrument picked for the day; null: none of the book. */
  instrument: string | null;
  /** Day the instrument was picked; on another day it is asked again. */
  instrument_day: string | null;
  hand: 'right' | 'left';
  /** Whether what is remembered was read: nothing is asked before. */
  is_read: boolean;
}

export const PAINTS = ['on', 'partly off', 'off'] as const;
export type Paint = (typeof PAINTS)[number];
export const PAINT_WORDS: Record<string, string> = {
  on: 'paint on',
  'partly off': 'paint partly off',
  off: 'paint off',
};
export const METHODS = ['eye', 'mirror', 'borescope', 'tap', 'dye', 'gauge'] as const;
const FIRST: Looking = {
  method: null,
  paint: null,
  how_day: null,
  survey: null,
  instrument: null,
  instrument_day: null,
  hand: 'right',
  is_read: false,
};
const NAME = 'looking';

/** What stands today: method and paint of another day were chosen for another bay. */
export function ofDay(looking: Looking, today: string): Looking {
  return looking.how_day === today ? looking : { ...looking, method: null, paint: null };
}

/** "eye, paint on"; null while either is to be asked. */
export function howOf({ method, paint }: Pick<Looking, 'method' | 'paint'>): string | null {
  return method !== null && paint !== null ? `${method}, ${PAINT_WORDS[paint]}` : null;
}

/** What is remembered, and the way to change part of it. */
export function useLooking(shop: Shop): [Looking, (change: Partial<Looking>) => void] {
  const [kept, setLooking] = useState<Looking>(FIRST);
  const looking = ofDay(kept, shop.today());
  const { session } = shop;
  useEffect(() => {
    if (!session) return;
    shop.drafts.read(session, NAME).then(
      (found) => setLooking({ ...FIRST, ...(found as unknown as Looking | null), is_read: true }),
      () => setLooking({ ...FIRST, is_read: true }),
    );
  }, [shop, session?.person]);
  const change = (part: Partial<Looking>) => {
    const how_day = 'method' in part || 'paint' in part ? shop.today() : looking.how_day;
    const next = { ...looking, how_day, ...part };
    setLooking(next);
    if (session) void shop.drafts.write(session, NAME, next as unknown as Json);
  };
  return [looking, change];
}

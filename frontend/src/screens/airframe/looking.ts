import { useEffect, useState } from 'preact/hooks';
import type { Json, Shop } from '../../services/shop';

/** How this person is looking today; remembered on this tablet until changed. */
export interface Looking {
  method: string;
  paint: Paint;
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
  method: 'eye',
  paint: 'on',
  survey: null,
  instrument: null,
  instrument_day: null,
  hand: 'right',
  is_read: false,
};
const NAME = 'looking';

/** What is remembered, and the way to change part of it. */
export function useLooking(shop: Shop): [Looking, (change: Partial<Looking>) => void] {
  const [looking, setLooking] = useState<Looking>(FIRST);
  const { session } = shop;
  useEffect(() => {
    if (!session) return;
    shop.drafts.read(session, NAME).then(
      (kept) => setLooking({ ...FIRST, ...(kept as unknown as Looking | null), is_read: true }),
      () => setLooking({ ...FIRST, is_read: true }),
    );
  }, [shop, session?.person]);
  const change = (part: Partial<Looking>) => {
    const next = { ...looking, ...part };
    setLooking(next);
    if (session) void shop.drafts.write(session, NAME, next as unknown as Json);
  };
  return [looking, change];
}

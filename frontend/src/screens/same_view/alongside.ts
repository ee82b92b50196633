import { useEffect, useState } from 'preact/hooks';
import type { Session, Shop } from '../../services/shop';

/** Pictures held beside the view, four at most; by person, on this browser. */
export const MOST_HELD = 4;
const NAME = 'alongside';

export interface Alongside {
  /** Record ids of photographs, the first held first. */
  held: readonly string[];
  /** A fifth that waits until somebody says which goes. */
  asked: string | null;
  hold: (photograph: string) => void;
  /** Lets one go; where a fifth waits it takes that place. */
  letGo: (photograph: string) => void;
  /** The fifth is not held after all. */
  leave: () => void;
}

/** Held pictures after one was asked for; a fifth waits. */
export function afterHold(held: readonly string[], photograph: string) {
  if (held.includes(photograph)) return { held, asked: null };
  if (held.length >= MOST_HELD) return { held, asked: photograph };
  return { held: [...held, photograph], asked: null };
}

/** Held pictures after one was let go; a fifth that waited takes its place. */
export function afterLetGo(held: readonly string[], photograph: string, asked: string | null) {
  if (asked === null) return held.filter((one) => one !== photograph);
  return held.map((one) => (one === photograph ? asked : one));
}

/** Several parts of a screen show the same pictures. */
const listeners = new Set<() => void>();

/** What this person holds alongside, and the ways to change it. */
export function useAlongside(shop: Shop): Alongside {
  const { session } = shop;
  const [held, setHeld] = useState<readonly string[]>([]);
  const [asked, setAsked] = useState<string | null>(null);
  useEffect(() => {
    if (!session) return;
    const read = () => void readHeld(shop, session).then(setHeld);
    read();
    listeners.add(read);
    return () => void listeners.delete(read);
  }, [shop, session?.person]);
  const keep = async (change: (held: readonly string[]) => readonly string[]) => {
    if (!session) return;
    const next = change(await readHeld(shop, session));
    await shop.drafts.write(session, NAME, [...next]);
    for (const tell of listeners) tell();
  };
  return {
    held,
    asked,
    hold: (photograph) => {
      const next = afterHold(held, photograph);
      setAsked(next.asked);
      if (next.asked === null) void keep((now) => afterHold(now, photograph).held);
    },
    letGo: (photograph) => {
      setAsked(null);
      void keep((now) => afterLetGo(now, photograph, asked));
    },
    leave: () => setAsked(null),
  };
}

async function readHeld(shop: Shop, session: Session): Promise<string[]> {
  const kept = await shop.drafts.read(session, NAME).catch(() => null);
  return Array.isArray(kept) ? kept.filter((one) => typeof one === 'string') : [];
}

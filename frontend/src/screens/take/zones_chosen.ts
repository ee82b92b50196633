import { useState } from 'preact/hooks';
import type { Shop } from '../../services/shop';

const KEPT = 'skinpin.take.zones';

/** The zones chosen: after a reload the same, else those taken last. */
export function useChosen(shop: Shop): [string[], (zone: string) => void] {
  const before = () => kept() ?? shop.take.state.taken?.zones ?? [];
  const [chosen, setChosen] = useState<string[]>(before);
  const choose = (zone: string) => {
    const now = chosen.includes(zone) ? chosen.filter((one) => one !== zone) : [...chosen, zone];
    now.sort();
    try {
      localStorage.setItem(KEPT, now.join(' '));
    } catch {
      // A browser that keeps nothing still chooses.
    }
    setChosen(now);
  };
  return [chosen, choose];
}

function kept(): string[] | null {
  try {
    return localStorage.getItem(KEPT)?.split(' ').filter(Boolean) ?? null;
  } catch {
    return null;
  }
}

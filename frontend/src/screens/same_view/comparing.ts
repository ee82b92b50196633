import { useEffect, useState } from 'preact/hooks';

export type Mode = 'rivets' | 'blink' | 'slide' | 'beside';

export interface Comparing {
  mode: Mode;
  setMode: (mode: Mode) => void;
  /** Which of the two blink shows. */
  shown: 'earlier' | 'here';
  swap: () => void;
  /** Whether it swaps by itself, once a second there and back. */
  by_itself: boolean;
  turn: () => void;
  /** Why it does not swap by itself. */
  still: string | undefined;
  /** Percent from the left in which the slider shows the earlier picture. */
  share: number;
  setShare: (share: number) => void;
}

const SWAP_MS = 500;

/** Whether this device asks for less motion. */
export function wantsStill(): boolean {
  return matchMedia('(prefers-reduced-motion: reduce)').matches;
}

/** How two pictures are compared: swapped, by a slider, or side by side; `usual` until chosen. */
export function useComparing(usual: Mode): Comparing {
  const [chosen, setMode] = useState<Mode | null>(null);
  const mode = chosen ?? usual;
  const [shown, setShown] = useState<Comparing['shown']>('here');
  const [share, setShare] = useState(50);
  const is_still = wantsStill();
  const [by_itself, setByItself] = useState(!is_still);
  const swap = () => setShown((now) => (now === 'here' ? 'earlier' : 'here'));
  const is_running = mode === 'blink' && by_itself && !is_still;
  useEffect(() => {
    if (!is_running) return;
    const timer = setInterval(swap, SWAP_MS);
    return () => clearInterval(timer);
  }, [is_running]);
  return {
    mode,
    setMode,
    shown,
    swap: () => {
      // Who swaps by hand wants to look for as long as he likes.
      setByItself(false);
      swap();
    },
    by_itself: is_running,
    turn: () => setByItself(!by_itself),
    still: is_still ? 'less motion asked' : undefined,
    share,
    setShare: (next) => setShare(Math.min(100, Math.max(0, next))),
  };
}

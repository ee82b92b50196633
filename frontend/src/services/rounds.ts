/** When a browser meets its server: at the start, when back in reach or sight, every 30 seconds. */

import type { Exchange } from './shop';

const EVERY_MS = 30_000;

/** The page, as far as the rounds need one. */
export interface Page {
  isVisible(): boolean;
  onOnline(act: () => void): void;
  onVisible(act: () => void): void;
  every(ms: number, act: () => void): void;
}

/** Starts the rounds; `exchange` gives null while this browser is not enrolled. */
export function keepExchanging(exchange: () => Exchange | null, page: Page): void {
  const go = () => {
    if (page.isVisible()) void exchange()?.sendNow();
  };
  page.onOnline(go);
  page.onVisible(go);
  page.every(EVERY_MS, go);
  go();
}

/** The page of a real browser. */
export function thisPage(): Page {
  return {
    isVisible: () => document.visibilityState === 'visible',
    onOnline: (act) => addEventListener('online', act),
    onVisible: (act) => document.addEventListener('visibilitychange', act),
    every: (ms, act) => setInterval(act, ms),
  };
}

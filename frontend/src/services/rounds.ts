/** When a browser meets its server: at the start, when its network comes or goes, back in sight,
every 30 seconds, and soon after something was written. While it is away the timer asks less and less often. */

import type { Exchange } from './shop';

const EVERY_MS = 30_000;
/** Beats of the timer left out after so many in a row that found no server: battery, not haste. */
const LEFT_OUT = [0, 0, 1, 3];
/** A person at work writes in bursts; the last of a burst sends all of it. */
const SOON_MS = 1000;

/** The page, as far as the rounds need one. */
export interface Page {
  isVisible(): boolean;
  /** The network came, or went: the one is used at once, the other said at once. */
  onNetwork(act: () => void): void;
  onVisible(act: () => void): void;
  every(ms: number, act: () => void): void;
  /** Does it once after a time; asked again, the time begins anew. */
  soon(ms: number, act: () => void): void;
}

/** Starts the rounds; `exchange` gives null while this browser is not enrolled.

`onWritten` calls after each act of a person here. */
export function keepExchanging(
  exchange: () => Exchange | null,
  onWritten: (act: () => void) => void,
  page: Page,
): void {
  let found_none = 0;
  let left_out = 0;
  const meet = async () => {
    if (!page.isVisible()) return;
    const state = await exchange()?.sendNow();
    if (!state?.away) found_none = 0;
  };
  const go = () => {
    left_out = 0;
    void meet();
  };
  const beat = async () => {
    if (left_out > 0) {
      left_out -= 1;
      return;
    }
    found_none += 1;
    await meet();
    left_out = LEFT_OUT[Math.min(found_none, LEFT_OUT.length - 1)] as number;
  };
  page.onNetwork(go);
  page.onVisible(go);
  page.every(EVERY_MS, () => void beat());
  onWritten(() => page.soon(SOON_MS, go));
  go();
}

/** The page of a real browser. */
export function thisPage(): Page {
  let timer: ReturnType<typeof setTimeout> | undefined;
  return {
    soon: (ms, act) => {
      clearTimeout(timer);
      timer = setTimeout(act, ms);
    },
    isVisible: () => document.visibilityState === 'visible',
    onNetwork: (act) => {
      for (const change of ['online', 'offline']) addEventListener(change, act);
    },
    onVisible: (act) => document.addEventListener('visibilitychange', act),
    every: (ms, act) => setInterval(act, ms),
  };
}

/** One tab at a time: a name that only one piece of work of this browser can hold. */

export type WithLock = <T>(name: string, work: () => Promise<T>) => Promise<T | null>;

/** Does the work unless another tab holds the name; null: it did nothing. */
export const withLock: WithLock = async (name, work) => {
  if (typeof navigator === 'undefined' || !navigator.locks) return work();
  return navigator.locks.request(name, { ifAvailable: true }, (lock) => (lock ? work() : null));
};

/** How tabs wait for each other; `waits` is called where one must. */
export interface Turns {
  /** Does the work once no other tab holds the name in any way. */
  alone<T>(name: string, work: () => Promise<T>, waits: () => void): Promise<T>;
  /** Holds the name beside others who hold it so, until the answer is called. */
  beside(name: string, waits: () => void): Promise<() => void>;
}

/** Turns by the locks of the browser: a tab that is closed or killed gives them back. */
export function turns(locks: LockManager | undefined = globalThis.navigator?.locks): Turns {
  if (!locks) return { alone: (_name, work) => work(), beside: async () => () => {} };
  const ask = async <T>(
    name: string,
    mode: LockMode,
    work: () => Promise<T>,
    waits: () => void,
  ) => {
    const now = await locks.request(name, { mode, ifAvailable: true }, async (lock) =>
      lock ? [await work()] : null,
    );
    if (now) return now[0] as T;
    waits();
    return locks.request(name, { mode }, work) as Promise<T>;
  };
  return {
    alone: (name, work, waits) => ask(name, 'exclusive', work, waits),
    beside: (name, waits) =>
      new Promise((given, failed) => {
        const hold = () => new Promise<void>((release) => given(release));
        ask(name, 'shared', hold, waits).catch(failed);
      }),
  };
}

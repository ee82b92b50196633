/** One tab at a time: a name that only one piece of work of this browser can hold. */

export type WithLock = <T>(name: string, work: () => Promise<T>) => Promise<T | null>;

/** Does the work unless another tab holds the name; null: it did nothing. */
export const withLock: WithLock = async (name, work) => {
  if (typeof navigator === 'undefined' || !navigator.locks) return work();
  return navigator.locks.request(name, { ifAvailable: true }, (lock) => (lock ? work() : null));
};

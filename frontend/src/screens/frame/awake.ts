/** Keeps the screen awake while something is sent or fetched, where the browser can. */
export async function awake<T>(work: () => Promise<T>): Promise<T> {
  let held = await lock();
  // A browser lets the lock go when the page is hidden; it is asked for again when it is back.
  const again = async () => {
    if (document.visibilityState === 'visible') held = await lock();
  };
  document.addEventListener('visibilitychange', again);
  try {
    return await work();
  } finally {
    document.removeEventListener('visibilitychange', again);
    await held?.release().catch(() => undefined);
  }
}

async function lock(): Promise<WakeLockSentinel | null> {
  try {
    return (await navigator.wakeLock?.request('screen')) ?? null;
  } catch {
    return null;
  }
}

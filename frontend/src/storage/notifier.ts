/** Tells this page and the other tabs of one book that stores have changed. */

export type Listener = (stores: ReadonlySet<string>) => void;

export class Notifier {
  private readonly listeners = new Set<Listener>();
  private readonly channel: BroadcastChannel | null;
  private changed: Set<string> | null = null;
  private held = 0;

  constructor(name: string) {
    this.channel = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel(name);
    if (this.channel) this.channel.onmessage = (event) => this.tell(event.data as string[]);
  }

  /** Calls a listener after each change, here or in another tab; returns the way to stop. */
  listen(listener: Listener): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  /** Says that stores have changed. */
  announce(stores: string[]): void {
    this.channel?.postMessage(stores);
    this.tell(stores);
  }

  /** Tells nothing until the work is over: what it still has to do comes before the screens. */
  async hold<T>(work: Promise<T>): Promise<T> {
    this.held += 1;
    try {
      return await work;
    } finally {
      this.held -= 1;
      setTimeout(() => this.tellNow(), 0);
    }
  }

  close(): void {
    this.listeners.clear();
    this.channel?.close();
  }

  /** Tells a moment later, once for all that changed: whoever wrote goes on first. */
  private tell(stores: string[]): void {
    if (!this.changed) setTimeout(() => this.tellNow(), 0);
    this.changed = new Set([...(this.changed ?? []), ...stores]);
  }

  private tellNow(): void {
    const { changed } = this;
    if (this.held > 0 || !changed) return;
    this.changed = null;
    for (const listener of [...this.listeners]) listener(changed);
  }
}

/** Runs a query now and after each change, one at a time; late answers of old runs are dropped. */
export function live<T>(
  notifier: Notifier,
  query: () => Promise<T>,
  tell: (value: T) => void,
  failed: (error: unknown) => void = () => {},
): () => void {
  let stopped = false;
  let running = false;
  let again = false;
  const run = async () => {
    if (running) {
      again = true;
      return;
    }
    running = true;
    do {
      again = false;
      try {
        const value = await query();
        if (!stopped) tell(value);
      } catch (error) {
        if (!stopped) failed(error);
      }
    } while (again && !stopped);
    running = false;
  };
  const stop = notifier.listen(() => void run());
  void run();
  return () => {
    stopped = true;
    stop();
  };
}

/** The locks of one browser, as the Web Locks standard has them, for pages in one process. */

interface Asked {
  mode: LockMode;
  grant: () => void;
}

class Name {
  private held: LockMode[] = [];
  private readonly waiting: Asked[] = [];

  isFree(mode: LockMode): boolean {
    return this.held.length === 0 || (mode === 'shared' && !this.held.includes('exclusive'));
  }

  isAvailable(mode: LockMode): boolean {
    return this.waiting.length === 0 && this.isFree(mode);
  }

  take(mode: LockMode): Promise<void> {
    return new Promise((grant) => {
      this.waiting.push({ mode, grant });
      this.next();
    });
  }

  give(mode: LockMode): void {
    this.held.splice(this.held.indexOf(mode), 1);
    this.next();
  }

  private next(): void {
    const [first] = this.waiting;
    if (!first || !this.isFree(first.mode)) return;
    this.waiting.shift();
    this.held.push(first.mode);
    first.grant();
    this.next();
  }
}

/** What `navigator.locks` of every page of one browser is. */
export function pageLocks(): LockManager {
  const names = new Map<string, Name>();
  const request = async (
    name: string,
    options: LockOptions,
    work: (lock: Lock | null) => unknown,
  ) => {
    const mode = options.mode ?? 'exclusive';
    const one = names.get(name) ?? new Name();
    names.set(name, one);
    if (options.ifAvailable && !one.isAvailable(mode)) return work(null);
    await one.take(mode);
    try {
      return await work({ name, mode });
    } finally {
      one.give(mode);
    }
  };
  return { request } as unknown as LockManager;
}

/** Notices a new version of the app; takes it only when asked, and never the store with it. */

export type Told = () => void;

/** What is needed of a browser, so that tests can stand in for one. */
export interface Surroundings {
  workers: ServiceWorkerContainer | undefined;
  caches: CacheStorage | undefined;
  /** Loads the page anew, from the server or the new worker. */
  reload(): void;
  /** Whether the server answers with its app. */
  isServerHere(): Promise<boolean>;
  wait_ms: number;
}

export class VersionWatch {
  newVersion = false;
  private registration: ServiceWorkerRegistration | null = null;

  constructor(
    private readonly around: Surroundings,
    private readonly tell: Told,
  ) {}

  /** Registers the worker and listens for the next one. */
  async start(): Promise<void> {
    const { workers } = this.around;
    if (!workers) return;
    const controlled = workers.controller !== null;
    workers.addEventListener('controllerchange', () => {
      if (controlled) this.notice();
    });
    this.registration = await workers.register('/sw.js', { updateViaCache: 'none' });
    this.watch(this.registration, workers);
  }

  /** Asks the server whether there is a new version; silent where it is away. */
  async check(): Promise<void> {
    await this.registration?.update().catch(() => {});
  }

  /** Loads the new version. The caller has made sure that nothing unfinished is on the screen. */
  async takeNewVersion(): Promise<void> {
    const { workers } = this.around;
    const waiting = this.registration?.waiting;
    if (waiting && workers) {
      const taken = this.taken(workers);
      waiting.postMessage('skipWaiting');
      if (!(await taken) && this.registration?.waiting) {
        // Without the server there would be no app left, and what waits here could not be reached.
        if (!(await this.around.isServerHere())) return;
        await this.startAfresh();
      }
    }
    this.around.reload();
  }

  private watch(registration: ServiceWorkerRegistration, workers: ServiceWorkerContainer): void {
    if (registration.waiting && workers.controller) this.notice();
    registration.addEventListener('updatefound', () => {
      const coming = registration.installing;
      coming?.addEventListener('statechange', () => {
        if (coming.state === 'installed' && workers.controller) this.notice();
      });
    });
  }

  private notice(): void {
    if (this.newVersion) return;
    this.newVersion = true;
    this.tell();
  }

  /** Some browsers never tell of the change, so the wait has an end. */
  private taken(workers: ServiceWorkerContainer): Promise<boolean> {
    return new Promise((resolve) => {
      const timer = setTimeout(() => resolve(false), this.around.wait_ms);
      const change = () => {
        clearTimeout(timer);
        resolve(true);
      };
      workers.addEventListener('controllerchange', change, { once: true });
    });
  }

  private async startAfresh(): Promise<void> {
    await this.registration?.unregister();
    const { caches } = this.around;
    for (const key of (await caches?.keys()) ?? []) {
      if (key.startsWith('shell-')) await caches?.delete(key);
    }
  }
}

/** The surroundings of a real page. */
export function thisBrowser(): Surroundings {
  return {
    workers: navigator.serviceWorker,
    caches: globalThis.caches,
    reload: () => location.reload(),
    isServerHere: () =>
      fetch('/sw.js', { cache: 'no-store' }).then(
        ({ ok }) => ok,
        () => false,
      ),
    wait_ms: 4000,
  };
}

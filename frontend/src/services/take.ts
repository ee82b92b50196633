/** Taking the book to the airframe: how it stands; the work is fetched when it is asked for. */

import type { BookStore } from '../storage/database';
import type { Clock } from './clock';
import type { WithLock } from './locks';
import type { Server } from './server';
import type { Book, Exchange, Status } from './shop';
import type { Copies, Take, TakeNeed, TakeState, WholeNeed } from './shop_take';
import type { TakeWork } from './take_work';

/** Where it is kept when all had come. */
export const TAKEN = 'taken';

export interface TakeHost {
  store: BookStore;
  server: Server;
  clock: Clock;
  withLock: WithLock;
  book: Pick<Book, 'defects'>;
  exchange: Exchange;
  status: Status;
  tell(): void;
}

export class KeptTake implements Take {
  state: TakeState = {
    ...{ running: false, step: null, done: 0, of: 0 },
    ...{ problem: null, not_there: 0, taken: null },
  };
  private stopped = false;
  private run: Promise<TakeState> | null = null;

  constructor(private readonly host: TakeHost) {}

  /** Reads when the book was last taken. */
  async resume(): Promise<void> {
    const kept = await this.host.store.read(['meta'], (tx) => tx.objectStore('meta').get(TAKEN));
    this.set({ taken: (kept as TakeState['taken']) ?? null });
  }

  async need(zones: readonly string[], copies: Copies): Promise<WholeNeed> {
    return (await this.work()).need(zones, copies);
  }

  async byZone(copies: Copies): Promise<Record<string, TakeNeed>> {
    return (await this.work()).byZone(copies);
  }

  take(zones: readonly string[], copies: Copies): Promise<TakeState> {
    this.run ??= this.all(zones, copies).finally(() => {
      this.run = null;
    });
    return this.run;
  }

  stop(): void {
    this.stopped = true;
  }

  private async all(zones: readonly string[], copies: Copies): Promise<TakeState> {
    this.stopped = false;
    try {
      return await (await this.work()).take(zones, copies);
    } catch (error) {
      // The work itself could not be fetched, as after a new version.
      const problem = error instanceof Error ? error.message : String(error);
      this.set({ running: false, step: null, problem });
      return this.state;
    }
  }

  private async work(): Promise<TakeWork> {
    const { TakeWork } = await import('./take_work');
    return new TakeWork(this.host, {
      state: () => this.state,
      set: (change) => this.set(change),
      is_stopped: () => this.stopped,
    });
  }

  private set(change: Partial<TakeState>): void {
    this.state = { ...this.state, ...change };
    this.host.tell();
  }
}

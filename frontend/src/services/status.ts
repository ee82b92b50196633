/** What the title block says: what waits, how much room is left, whether the store is kept. */

import type { BookStore } from '../storage/database';
import { countWaiting, WAITING_STORES, type WaitingCounts } from '../storage/waiting';
import type { Clock } from './clock';
import type { Status, StatusLine, Waiting } from './shop';

/** A photograph of 12 megapixels, taken large rather than small. */
const PHOTOGRAPH_BYTES = 4_000_000;
const DAY_MS = 86_400_000;

/** What is asked of a browser; every part may be missing. */
export interface Surroundings {
  storage?: Pick<StorageManager, 'estimate' | 'persist' | 'persisted'> | undefined;
  battery?: (() => Promise<{ level: number }>) | undefined;
}

export class KeptStatus implements Status {
  constructor(
    private readonly store: BookStore,
    private readonly clock: Clock,
    private readonly around: Surroundings,
  ) {}

  async waiting(): Promise<Waiting> {
    const counts = await this.store.read(WAITING_STORES, countWaiting);
    return shown(counts, this.clock.raw_ms());
  }

  async line(): Promise<StatusLine> {
    const waiting = await this.waiting();
    const [room_bytes, kept, battery_percent] = await Promise.all([
      this.room(),
      this.kept(),
      this.battery(),
    ]);
    return {
      waiting,
      waiting_words: waitingWords(waiting),
      waiting_weight: weightOf(waiting.oldest_ms),
      room_bytes,
      room_photographs: room_bytes === null ? null : photographsIn(room_bytes),
      kept,
      battery_percent,
    };
  }

  async askToKeep(): Promise<boolean> {
    const kept = (await this.around.storage?.persist?.()) ?? false;
    await this.store.write(['meta'], (tx) => tx.objectStore('meta').put(kept, 'asked_to_keep'));
    return kept;
  }

  private async room(): Promise<number | null> {
    const { quota, usage } = (await this.around.storage?.estimate?.().catch(() => null)) ?? {};
    if (quota === undefined || usage === undefined) return null;
    return Math.max(0, quota - usage);
  }

  private async kept(): Promise<boolean | null> {
    if (await this.around.storage?.persisted?.().catch(() => false)) return true;
    const asked = await this.store.read(['meta'], (tx) =>
      tx.objectStore('meta').get('asked_to_keep'),
    );
    return asked === undefined ? null : false;
  }

  private async battery(): Promise<number | null> {
    const battery = await this.around.battery?.().catch(() => null);
    return battery ? Math.round(battery.level * 100) : null;
  }
}

/** How many photographs a room holds. */
export function photographsIn(bytes: number): number {
  return Math.max(0, Math.floor(bytes / PHOTOGRAPH_BYTES));
}

/** "3 records, 5 photographs waiting". */
export function waitingWords({ records, bays, photographs, files, entries }: Waiting): string {
  const parts = [
    counted(records, 'record'),
    counted(bays, 'bay'),
    counted(photographs, 'photograph'),
  ].filter(Boolean);
  if (parts.length > 0) return `${parts.join(', ')} waiting`;
  const rest = counted(files, 'file') || counted(entries, 'entry', 'entries');
  return rest ? `${rest} waiting` : 'Nothing waiting';
}

/** Two days bold, five days with the error sign. */
export function weightOf(oldest_ms: number | null): StatusLine['waiting_weight'] {
  if (oldest_ms === null || oldest_ms < 2 * DAY_MS) return 'plain';
  return oldest_ms < 5 * DAY_MS ? 'bold' : 'error';
}

/** What a real browser gives. */
export function thisBrowser(): Surroundings {
  const { storage, getBattery } = navigator as Navigator & {
    getBattery?: () => Promise<{ level: number }>;
  };
  return { storage, battery: getBattery?.bind(navigator) };
}

function shown(counts: WaitingCounts, raw_ms: number): Waiting {
  const { oldest_wall_ms, entries, files } = counts;
  return {
    entries,
    files,
    records: counts.records.size,
    bays: counts.bays.size,
    photographs: counts.photographs.size,
    oldest_ms: oldest_wall_ms === null ? null : Math.max(0, raw_ms - oldest_wall_ms),
  };
}

function counted(count: number, one: string, many = `${one}s`): string {
  return count === 0 ? '' : `${count} ${count === 1 ? one : many}`;
}

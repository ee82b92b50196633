/** The work of taking the book to the airframe, fetched when it is asked for: what lacks, the whole
log, and copies of the photographs of some zones. */

import { Refused } from '../domain/errors';
import { NO_ZONE } from '../domain/place_zones';
import { COPY_STORES, type HeldPhotograph, heldPhotographs } from '../storage/copies';
import { keepFetched, putRendition } from '../storage/files';
import { isAway } from './server';
import type { Copies, TakeNeed, TakeState, WholeNeed } from './shop_take';
import { TAKEN, type TakeHost } from './take';

const SIZES: Record<Copies, (number | null)[]> = { small: [320, 1000], all: [320, 1000, null] };
/** So many copies are asked for at once: the way there and back is longer than the bytes. */
const LANES = 3;
/** Refusals that say that the server has no such copy. */
const NOT_THERE = ['no_such_photograph', 'unreadable_picture', 'too_many_pixels', 'no_picture'];
/** What a rendition takes is known when it is here; until then a guess. */
const LIKELY_BYTES: Record<number, number> = { 320: 30_000, 1000: 200_000 };

/** A copy of a photograph: a rendition of a size in px, or the bytes as they were taken (null). */
interface Copy {
  sha256: string;
  size: number | null;
  bytes: number;
}

/** What is told of the work, and whether it is to stop. */
export interface Telling {
  state(): TakeState;
  set(change: Partial<TakeState>): void;
  is_stopped(): boolean;
}

export class TakeWork {
  constructor(
    private readonly host: TakeHost,
    private readonly telling: Telling,
  ) {}

  async need(zones: readonly string[], copies: Copies): Promise<WholeNeed> {
    const { drawingsLacking } = await import('./take_drawings');
    const { length } = await drawingsLacking(this.host.store);
    return { ...needOf(await this.shown(zones), copies), drawings_lacking: length };
  }

  async byZone(copies: Copies): Promise<Record<string, TakeNeed>> {
    const zones = await this.zonesOfDefects();
    const shown: Record<string, HeldPhotograph[]> = {};
    for (const one of await this.held()) {
      const names = new Set(one.defects.flatMap((defect) => zones.get(defect) ?? []));
      for (const name of names) shown[name] = [...(shown[name] ?? []), one];
    }
    const needs = Object.entries(shown).map(([zone, some]) => [zone, needOf(some, copies)]);
    return Object.fromEntries(needs);
  }

  async take(zones: readonly string[], copies: Copies): Promise<TakeState> {
    const { store, withLock } = this.host;
    this.telling.set({ running: true, step: 'log', done: 0, of: 0, problem: null, not_there: 0 });
    let problem: string | null = null;
    try {
      const name = `skinpin-take-${store.book}`;
      const done = await withLock(name, async () => {
        await this.fetchLog();
        const lost = await this.fetchDrawings();
        await this.fetchCopies(zones, copies, lost);
        return true;
      });
      if (!done) problem = 'Another page of this tablet is taking the book to the airframe.';
      else if (this.telling.is_stopped())
        problem = 'Stopped. What came is here; take it again to go on.';
      else await this.keepTaken(zones, copies);
    } catch (error) {
      problem = this.sentence(error);
    }
    this.telling.set({ running: false, step: null, problem });
    return this.telling.state();
  }

  /** Fetches all the server has of the log; the exchange goes on from its last page. */
  private async fetchLog(): Promise<void> {
    const { away, shut, problem } = await this.host.exchange.sendNow();
    if (away) throw new Refused('away', 'The server does not answer.', '');
    if (shut) throw new Refused(shut.code, shut.message, shut.hint);
    if (problem) throw new Refused('not_understood', problem, '');
  }

  /** Fetches the drawings; those the server has not. */
  private async fetchDrawings(): Promise<string[]> {
    const { fetchDrawings } = await import('./take_drawings');
    return fetchDrawings(
      this.host.store,
      async (sha256) => this.telling.is_stopped() || this.fetch({ sha256, size: null, bytes: 0 }),
    );
  }

  private async fetchCopies(
    zones: readonly string[],
    copies: Copies,
    lost: readonly string[],
  ): Promise<void> {
    const lacking = (await this.shown(zones)).flatMap((one) => lackingOf(one, copies));
    await this.refuseTooMuch(lacking);
    const not_there = new Set(lost);
    this.telling.set({ step: 'photographs', of: lacking.length, not_there: not_there.size });
    const line = [...lacking];
    const lane = async () => {
      for (let copy = line.shift(); copy && !this.telling.is_stopped(); copy = line.shift()) {
        if (!(await this.fetch(copy))) not_there.add(copy.sha256);
        this.telling.set({ done: this.telling.state().done + 1, not_there: not_there.size });
      }
    };
    const lanes = Array.from({ length: LANES }, () =>
      lane().catch((error) => {
        line.length = 0;
        throw error;
      }),
    );
    const ends = await Promise.allSettled(lanes);
    for (const end of ends) if (end.status === 'rejected') throw end.reason;
  }

  /** Looks for room before anything is fetched, and asks the browser to keep what comes. */
  private async refuseTooMuch(lacking: readonly Copy[]): Promise<void> {
    await this.host.status.askToKeep().catch(() => false);
    const need = lacking.reduce((sum, one) => sum + one.bytes, 0);
    const { room_bytes } = await this.host.status.line();
    if (room_bytes === null || need <= room_bytes) return;
    throw new Refused(
      'full',
      `This needs ${sizeWords(need)}, and there is room for ${sizeWords(room_bytes)}.`,
      'Choose fewer zones, or the small copies. The log is here.',
    );
  }

  /** Fetches one copy and keeps it; false: the server has it not. */
  private async fetch({ sha256, size }: Copy): Promise<boolean> {
    const { server, store } = this.host;
    try {
      const path = `/api/photographs/${sha256}${size === null ? '' : `?size=${size}`}`;
      const bytes = await bytesOf(await server.send(path, {}, 120_000));
      if (size === null) await keepFetched(store, bytes, sha256);
      else await putRendition(store, bytes, sha256, size);
      return true;
    } catch (error) {
      if (error instanceof Refused && NOT_THERE.includes(error.code)) return false;
      throw error;
    }
  }

  /** Photographs of the defects of some zones. */
  private async shown(zones: readonly string[]): Promise<HeldPhotograph[]> {
    const known = await this.zonesOfDefects();
    const isIn = (defect: string) => known.get(defect)?.some((zone) => zones.includes(zone));
    return (await this.held()).filter(({ defects }) => defects.some(isIn));
  }

  private held(): Promise<HeldPhotograph[]> {
    return this.host.store.read(COPY_STORES, heldPhotographs);
  }

  private async zonesOfDefects(): Promise<Map<string, string[]>> {
    const rows = await this.host.book.defects();
    return new Map(rows.map(({ record, zones }) => [record, zones?.length ? zones : [NO_ZONE]]));
  }

  private async keepTaken(zones: readonly string[], copies: Copies): Promise<void> {
    const taken = { at_ms: this.host.clock.now_ms(), zones: [...zones], copies };
    await this.host.store.write(['meta'], (tx) => tx.objectStore('meta').put(taken, TAKEN));
    this.telling.set({ taken });
  }

  private sentence(error: unknown): string {
    const { step, done, of } = this.telling.state();
    if (isAway(error)) {
      const came = step === 'photographs' ? ` after ${done} of ${of} copies` : '';
      return `The server went out of reach${came}. What came is here; take it again to go on.`;
    }
    if (error instanceof Refused) return [error.message, error.hint].filter(Boolean).join(' ');
    return error instanceof Error ? error.message : String(error);
  }
}

function lackingOf({ sha256, size_bytes, whole, sizes }: HeldPhotograph, copies: Copies): Copy[] {
  if (whole) return [];
  return SIZES[copies]
    .filter((size) => size === null || !sizes.includes(size))
    .map((size) => ({
      ...{ sha256, size },
      bytes: size === null ? size_bytes : (LIKELY_BYTES[size] ?? 0),
    }));
}

function needOf(photographs: readonly HeldPhotograph[], copies: Copies): TakeNeed {
  const lacking = photographs.map((one) => lackingOf(one, copies));
  return {
    photographs: photographs.length,
    here: lacking.filter((some) => some.length === 0).length,
    bytes: lacking.flat().reduce((sum, { bytes }) => sum + bytes, 0),
  };
}

async function bytesOf(answer: Response): Promise<ArrayBuffer> {
  try {
    return await answer.arrayBuffer();
  } catch (cause) {
    throw new Refused('away', 'The server’s answer was cut short.', '', { cause });
  }
}

/** "212 MB", "1.9 GB", "340 kB": decimal units, as tablets are sold. */
export function sizeWords(bytes: number): string {
  if (bytes >= 1e9) return `${(bytes / 1e9).toFixed(1)} GB`;
  if (bytes >= 1e6) return `${Math.round(bytes / 1e6)} MB`;
  return `${Math.ceil(bytes / 1000)} kB`;
}

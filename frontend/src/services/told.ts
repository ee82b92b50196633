/** What this browser tells the server of itself: the register of tablets is made from it. */

import type { BookStore } from '../storage/database';
import { lastNumber } from '../storage/numbers';
import type { Clock } from './clock';
import type { Server } from './server';
import type { ExchangeState, Json, Status } from './shop';

/** The same again is told after this time only. */
const AGAIN_MS = 600_000;

export interface TellingHost {
  store: BookStore;
  server: Server;
  clock: Clock;
  status: Status;
  letter: string | null;
  /** Name of the build of the app that runs here. */
  app: string;
}

export class Telling {
  private last = { words: '', at_ms: Number.NEGATIVE_INFINITY };

  constructor(private readonly host: TellingHost) {}

  /** Tells it unless it was told just now, and returns by how much the server says that this clock
  is off, null where it was not asked. Throws Refused where the server can't be told. */
  async tell(epoch: string, state: ExchangeState): Promise<number | null> {
    const { clock, server } = this.host;
    const [body, lasting] = await this.said(epoch, state);
    const words = JSON.stringify(lasting);
    const { last } = this;
    if (words === last.words && Math.abs(clock.raw_ms() - last.at_ms) < AGAIN_MS) return null;
    const told = await server.post<{ clock_off_ms: number }>('/api/devices/told', body);
    this.last = { words, at_ms: clock.raw_ms() };
    return told.clock_off_ms;
  }

  /** All of it, and the part that is worth telling again when it changes. */
  private async said(epoch: string, state: ExchangeState): Promise<[Json, Json]> {
    const { status, store, letter, app } = this.host;
    const { waiting, battery_percent, room_photographs } = await status.line();
    const last_number =
      letter === null ? null : await store.read(['meta'], (tx) => lastNumber(tx, letter));
    const { entries, files, oldest_ms } = waiting;
    const lasting = {
      version: app,
      epoch,
      entries,
      files,
      refused: state.refused.length,
      last_number,
    };
    const passing = {
      oldest_ms: oldest_ms === null ? null : Math.round(oldest_ms),
      offset_ms: Math.round(state.offset_ms),
      battery_percent,
      room_photographs: room_photographs === null ? null : Math.min(room_photographs, 1e9),
    };
    return [{ ...lasting, ...passing }, lasting];
  }
}

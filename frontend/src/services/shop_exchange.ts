/** What a screen may ask about the exchange with the server. */

import type { RefusalShape } from './shop';

export interface ExchangeState {
  running: boolean;
  /** The server did not answer when last asked: no fault, everything is stored here. */
  away: boolean;
  /** Corrected ms of the last answer of the server; null: never. */
  last_contact_ms: number | null;
  /** What stopped the last run: a sentence; null: nothing. */
  problem: string | null;
  /** Why the server lets this device in no more, and the way back; null: it does. */
  shut: RefusalShape | null;
  /** Entries the server refused: shown, never sent again. */
  refused: RefusedEntry[];
  /** Milliseconds this browser's clock is behind the server's. */
  offset_ms: number;
  /** By how much the server said that this clock is off, ms, slow where it is more than 0; null: it
  did not say since the app was opened. */
  clock_off_ms: number | null;
  /** Corrected ms when this browser last had all that the server had; null: never. */
  whole_ms: number | null;
  /** Corrected ms since when everything held here is offered anew, for the server was put back from
  an older copy; null: it was not, or all of it is there again. */
  offered_ms: number | null;
  /** What was sent since something last waited here; null: nothing since the app was opened. */
  sent: Sent | null;
}

export interface RefusedEntry {
  id: string;
  code: string;
  reason: string;
  /** What it was about. */
  record: string;
  kind: string;
}

/** What a browser has sent; `all`: nothing of it waited when the last run ended. */
export interface Sent {
  records: number;
  bays: number;
  photographs: number;
  all: boolean;
}

export interface Exchange {
  readonly state: ExchangeState;
  /** Sends and fetches until nothing is left; never throws for a network that is away. */
  sendNow(): Promise<ExchangeState>;
}

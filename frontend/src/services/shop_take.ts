/** What a screen may ask about taking the book to the airframe. */

/** `small`: what the screens show, 320 and 1000 px; `all`: also as they were taken. */
export type Copies = 'small' | 'all';

/** What the photographs of some zones take. */
export interface TakeNeed {
  photographs: number;
  /** Photographs of which every copy asked for is here. */
  here: number;
  /** What is to be fetched, about. */
  bytes: number;
}

/** The same, and what lacks whatever zones are chosen. */
export interface WholeNeed extends TakeNeed {
  /** Drawings of any zone that are not here; the key brings them all. */
  drawings_lacking: number;
}

export interface TakeState {
  running: boolean;
  /** What is being fetched now. */
  step: 'log' | 'photographs' | null;
  done: number;
  of: number;
  /** What stopped the last time, and what to do; null: nothing. */
  problem: string | null;
  /** Photographs that the server did not have when last asked. */
  not_there: number;
  /** When all that was asked for had come, and for which zones; null: never. */
  taken: { at_ms: number; zones: string[]; copies: Copies } | null;
}

export interface Take {
  readonly state: TakeState;
  need(zones: readonly string[], copies: Copies): Promise<WholeNeed>;
  /** The same for each zone that has photographs. */
  byZone(copies: Copies): Promise<Record<string, TakeNeed>>;
  /** Fetches the whole log, then what lacks of the zones; stops anywhere and goes on from there. */
  take(zones: readonly string[], copies: Copies): Promise<TakeState>;
  /** Stops after what is on its way. */
  stop(): void;
}

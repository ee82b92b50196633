/** What a screen may ask about this browser: what waits on it, the room left, its battery. */

export interface Waiting {
  /** Unacknowledged entries. */
  entries: number;
  /** Records with something unsent, photographs with their marks and bays left out. */
  records: number;
  /** Bays looked at, or said why not, that are unsent. */
  bays: number;
  /** Photographs with entry, marks or bytes unsent. */
  photographs: number;
  /** Files not yet sent: photographs and lists of stamps. */
  files: number;
  /** Age of the oldest of them, ms. */
  oldest_ms: number | null;
}

export interface StatusLine {
  waiting: Waiting;
  /** "3 records, 5 photographs waiting" or "Nothing waiting". */
  waiting_words: string;
  /** 'bold' from 2 days, 'error' from 5. */
  waiting_weight: 'plain' | 'bold' | 'error';
  /** "about 1,240 photographs"; null where the browser does not say. */
  room_photographs: number | null;
  /** The same in bytes. */
  room_bytes: number | null;
  /** Answer of the browser to keeping the store; null: not asked or not known. */
  kept: boolean | null;
  /** 0–100; null where the browser does not give it. */
  battery_percent: number | null;
}

export interface Status {
  line(): Promise<StatusLine>;
  /** Asks the browser to keep the store; call it from a key, once. */
  askToKeep(): Promise<boolean>;
}

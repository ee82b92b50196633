/** What a screen may ask about files for memory sticks. */

import type { Sink } from './zip';

export type { Sink };

export interface StickFile {
  /** "A-2025-11-03-0815.zip". */
  name: string;
  entries: number;
  /** Photographs and lists of stamps in it. */
  files: number;
  /** Those that had no room in one file; they wait here as before. */
  left_out: number;
  /** Those that no longer read back as they were written. */
  damaged: number;
  size_bytes: number;
}

export type StickTell = (done: number, of: number) => void;

export interface Stick {
  /** A name for a file written now, without its ending. */
  name(): string;
  /** Writes what waits into a sink, piece by piece; nothing is marked as sent. */
  write(name: string, sink: Sink, tell?: StickTell): Promise<StickFile>;
}

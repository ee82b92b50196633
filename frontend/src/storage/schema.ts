/** What a browser keeps of one book: stores, keys and values. Nothing here is ever deleted. */

import type { DBSchema, IDBPDatabase, IDBPTransaction, StoreNames } from 'idb';
import { deleteDB, openDB } from 'idb';

export { deleteDB };

export interface EntryRow {
  id: string;
  /** The canonical line as it came. */
  line: string;
  size_bytes: number;
  sha256: string;
  /** When it came to the server, of an entry stamped too far ahead to be believed. */
  came_ms?: number;
  record: string;
  kind: string;
  /** Writer and act id: an id of an act is only unique to its writer. */
  act: string;
  /** Verdict of the domain; left out: counts. */
  verdict?: unknown;
  /** Ids under which a judged entry must be found when one of them changes. */
  refers: string[];
  /** Device of an entry that waits because its author left. */
  held?: string;
  /** Act that a counting undo takes back. */
  withdraws?: string;
}

export interface StandingRow {
  record: string;
  kind: string;
  values: Record<string, Record<string, unknown>>;
  awaited: string[];
  faults: unknown[];
  /** Records named by standing values: the defect of a photograph, the airframe of a defect. */
  names: string[];
}

export interface RowKept {
  record: string;
  /** File numbers, old ones too: A0017. */
  numbers: string[];
  /** Counts the times rows were written, so that a reader finds what is new to it. */
  at: number;
  row: unknown;
}

export interface UnsentRow {
  id: string;
  act: string;
  record: string;
  kind: string;
  size_bytes: number;
  wall_ms: number;
}

export interface UnsentFile {
  sha256: string;
  size_bytes: number;
  media_type: string;
  /** Records of the photographs these bytes are of; none: a list of stamps or another file. */
  photographs: string[];
  wall_ms: number;
}

export interface RefusedRow {
  id: string;
  n: number;
  sha256: string;
  code: string;
  reason: string;
}

export interface DraftRow {
  person: string;
  screen: string;
  value: unknown;
}

export interface BookSchema extends DBSchema {
  entries: {
    key: string;
    value: EntryRow;
    indexes: { record: string; act: string; refers: string; held: string; withdraws: string };
  };
  unsent: { key: string; value: UnsentRow };
  refused: { key: string; value: RefusedRow };
  standing: {
    key: string;
    value: StandingRow;
    indexes: { kind: string; awaited: string; names: string };
  };
  rows: { key: string; value: RowKept; indexes: { numbers: string; at: number } };
  files: { key: string; value: ArrayBuffer };
  /** Small copies of photographs that lie on the server, kept once they were seen: [hash, size]. */
  renditions: { key: [string, number]; value: ArrayBuffer };
  unsent_files: { key: string; value: UnsentFile };
  meta: { key: string; value: unknown };
  drafts: { key: [string, string]; value: DraftRow };
  people: { key: string; value: { person: string } & Record<string, unknown> };
}

export type StoreName = StoreNames<BookSchema>;
export type Database = IDBPDatabase<BookSchema>;
export type Mode = 'readonly' | 'readwrite';
export type Transaction = IDBPTransaction<BookSchema, StoreName[], Mode>;
export type WriteTransaction = IDBPTransaction<BookSchema, StoreName[], 'readwrite'>;

/** A step from one version of the stores to the next. */
export type Step = (database: Database) => void;

/** All of them: only ever added to. */
const STEPS: readonly Step[] = [
  (database) => {
    const entries = database.createObjectStore('entries', { keyPath: 'id' });
    entries.createIndex('record', 'record');
    entries.createIndex('act', 'act');
    entries.createIndex('refers', 'refers', { multiEntry: true });
    entries.createIndex('held', 'held');
    entries.createIndex('withdraws', 'withdraws');
    const standing = database.createObjectStore('standing', { keyPath: 'record' });
    standing.createIndex('kind', 'kind');
    standing.createIndex('awaited', 'awaited', { multiEntry: true });
    standing.createIndex('names', 'names', { multiEntry: true });
    const rows = database.createObjectStore('rows', { keyPath: 'record' });
    rows.createIndex('numbers', 'numbers', { multiEntry: true });
    rows.createIndex('at', 'at');
    database.createObjectStore('unsent', { keyPath: 'id' });
    database.createObjectStore('refused', { keyPath: 'id' });
    database.createObjectStore('files');
    database.createObjectStore('renditions');
    database.createObjectStore('unsent_files', { keyPath: 'sha256' });
    database.createObjectStore('meta');
    database.createObjectStore('drafts', { keyPath: ['person', 'screen'] });
    database.createObjectStore('people', { keyPath: 'person' });
  },
];

export const VERSION = STEPS.length;

export interface OpenHooks {
  blocked(): void;
  blocking(): void;
  terminated(): void;
}

/** Opens the database of a book and brings its stores up to date. */
export function openBookDatabase(
  book: string,
  hooks: OpenHooks,
  steps: readonly Step[] = STEPS,
): Promise<Database> {
  return openDB<BookSchema>(databaseName(book), steps.length, {
    ...hooks,
    upgrade(database, from) {
      for (const step of steps.slice(from)) step(database);
    },
  });
}

/** The name of a book's database. */
export function databaseName(book: string): string {
  return `skinpin-${book}`;
}

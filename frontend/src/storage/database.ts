/** Every transaction of a book passes here: strict durability, one retry, a sentence at the end. */

import type { IDBPTransaction } from 'idb';
import { Refused } from '../domain/errors';
import { full, isFull, isLost, isYounger, lost, younger } from './faults';
import { Notifier } from './notifier';
import type {
  BookSchema,
  Database,
  Mode,
  OpenHooks,
  StoreName,
  Transaction,
  WriteTransaction,
} from './schema';
import { databaseName, openBookDatabase } from './schema';

export type OpenBook = (book: string, hooks: OpenHooks) => Promise<Database>;

/** Stores whose changes screens want to hear of. */
const TOLD: ReadonlySet<StoreName> = new Set([
  'entries',
  'unsent',
  'refused',
  'standing',
  'rows',
  'files',
  'unsent_files',
  'people',
]);

export class BookStore {
  readonly changes: Notifier;
  private handle: Promise<Database> | null = null;
  private closed = false;
  private readonly live = new Set<IDBPTransaction<BookSchema, StoreName[], Mode>>();

  /** `tell` gets a sentence when the store is lost for good, or another tab must be closed; null
  takes it back. */
  constructor(
    readonly book: string,
    private readonly tell: (sentence: string | null) => void = () => {},
    private readonly openBook: OpenBook = openBookDatabase,
  ) {
    this.changes = new Notifier(databaseName(book));
  }

  /** Reads in one transaction. `work` may run twice and must await nothing but the store. */
  read<T>(stores: StoreName[], work: (tx: Transaction) => Promise<T>): Promise<T> {
    return this.run(stores, 'readonly', work);
  }

  /** Writes in one transaction, durable when it resolves. `work` as for `read`. */
  async write<T>(
    stores: StoreName[],
    work: (tx: WriteTransaction) => Promise<T>,
    what = 'the last step',
  ): Promise<T> {
    const result = await this.run(stores, 'readwrite', (tx) => work(tx as WriteTransaction), what);
    const told = stores.filter((name) => TOLD.has(name));
    if (told.length > 0) this.changes.announce(told);
    return result;
  }

  /** Closes the handle; used by tests and when another book is opened. */
  async close(): Promise<void> {
    if (this.closed) return;
    this.closed = true;
    this.changes.close();
    const handle = await this.handle?.catch(() => null);
    handle?.close();
    this.handle = null;
  }

  /**
   * Ends everything at once, for a page that a browser puts aside whole: one engine leaves its
   * transactions standing, and the next page would wait for them for ever. Nothing that was told
   * as stored is lost. From then on this store answers nobody.
   */
  letGo(): void {
    this.closed = true;
    for (const tx of this.live) abort(tx);
    this.drop();
    this.handle = new Promise(() => {});
  }

  private async run<T>(
    stores: StoreName[],
    mode: Mode,
    work: (tx: Transaction) => Promise<T>,
    what = 'the last step',
  ): Promise<T> {
    try {
      return await this.once(stores, mode, work);
    } catch (error) {
      if (!isLost(error) || this.closed) throw readable(error, what);
      this.drop();
    }
    try {
      return await this.once(stores, mode, work);
    } catch (error) {
      if (!isLost(error)) throw readable(error, what);
      this.drop();
      const refusal = lost(error);
      this.tell(`${refusal.message} ${refusal.hint}`);
      throw refusal;
    }
  }

  private async once<T>(
    stores: StoreName[],
    mode: Mode,
    work: (tx: Transaction) => Promise<T>,
  ): Promise<T> {
    const database = await this.open();
    const tx = database.transaction(stores, mode, { durability: 'strict' });
    const done = tx.done;
    this.live.add(tx);
    done.catch(() => {}).finally(() => this.live.delete(tx));
    const result = await attempt(tx, work);
    await done;
    return result;
  }

  private open(): Promise<Database> {
    let isBlocked = false;
    this.handle ??= this.openBook(this.book, {
      blocked: () => {
        isBlocked = true;
        this.tell('Another tab holds an older store open. Close the other tabs.');
      },
      blocking: () => {
        this.drop();
        this.tell('A newer version of Skinpin was opened in another tab. Reload this page.');
      },
      terminated: () => this.drop(),
    }).then(
      (database) => {
        if (isBlocked) this.tell(null);
        return database;
      },
      (error: unknown) => {
        this.handle = null;
        throw error;
      },
    );
    return this.handle;
  }

  private drop(): void {
    const handle = this.handle;
    this.handle = null;
    handle?.then((database) => database.close()).catch(() => {});
  }
}

async function attempt<T>(
  tx: IDBPTransaction<BookSchema, StoreName[], Mode>,
  work: (tx: Transaction) => Promise<T>,
): Promise<T> {
  try {
    return await work(tx as Transaction);
  } catch (error) {
    const cause = abort(tx);
    throw isFull(cause) ? cause : error;
  }
}

/** Takes back what a failed piece of work wrote; returns why the store had ended it already. */
function abort(tx: IDBPTransaction<BookSchema, StoreName[], Mode>): unknown {
  const before = tx.error;
  try {
    tx.abort();
  } catch {
    // The store has ended the transaction itself.
  }
  return before;
}

function readable(error: unknown, what: string): unknown {
  if (isYounger(error)) return younger(error);
  return error instanceof Refused || !isFull(error) ? error : full(what, error);
}

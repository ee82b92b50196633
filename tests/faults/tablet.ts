// One tablet: the app's own shop over a store of its own, which outlives every start of the app.
import 'fake-indexeddb/auto';
import { AsyncLocalStorage } from 'node:async_hooks';
import { IDBFactory } from 'fake-indexeddb';
import { openDB } from 'idb';
import { Refused } from '../../frontend/src/domain/errors';
import { type OpenShop, openShop } from '../../frontend/src/services/open';
import type { Session } from '../../frontend/src/services/shop';
import { databaseName } from '../../frontend/src/storage/schema';
import type { FirstBook } from './bench';
import type { Chance } from './chance';
import { cloned } from './clone';
import { chainOf, goOnWith, PLANTED, SAME_WRITER } from './planted';
import type { Net } from './wire';

/** Each tablet's code finds the store of its tablet, whatever runs beside it. */
const AT = new AsyncLocalStorage<IDBFactory>();
Object.defineProperty(globalThis, 'indexedDB', { get: () => AT.getStore(), configurable: true });
// Tablets share no tabs: what one store announces is nothing to the others.
Object.assign(globalThis, { BroadcastChannel: undefined });

/** Stores that have no room: of three writes one fails, at once or when it is to be kept. */
const FULL = new Map<IDBFactory, number>();
const put = IDBObjectStore.prototype.put;
IDBObjectStore.prototype.put = function (this: IDBObjectStore, ...given: [unknown, IDBValidKey?]) {
  const store = AT.getStore();
  const count = store && FULL.get(store);
  if (store === undefined || count === undefined) return put.apply(this, given);
  FULL.set(store, count + 1);
  if (count % 6 === 2) throw new DOMException('no room', FULL_NAME);
  const asked = put.apply(this, given);
  if (count % 6 === 5) (this.transaction as unknown as Ending)._abort(FULL_NAME);
  return asked;
};
const FULL_NAME = 'QuotaExceededError';
interface Ending {
  _abort(name: string): void;
}

export interface Held {
  entries: Map<string, string>;
  standing: Map<string, { kind: string; values: object; awaited: string[] }>;
  rows: Map<string, object>;
  files: Map<string, ArrayBuffer>;
  unsent: string[];
  unsent_files: string[];
  refused: string[];
}

export class Tablet {
  private store = new IDBFactory();
  private shop: OpenShop | null = null;
  /** Counts the starts of the app: what an earlier one asks is never answered. */
  private start = 0;
  /** Where the chain of the last start stood, for a planted fault. */
  private chain: unknown = null;
  /** How far this tablet's clock is from the true time. */
  off_ms = 0;
  session: Session | null = null;

  constructor(
    readonly name: string,
    private readonly person: string,
    private readonly first: FirstBook,
    private readonly net: Net,
    private readonly chance: Chance,
    private readonly now_ms: () => number,
  ) {}

  /** Whether this tablet has no room left. */
  get is_full(): boolean {
    return FULL.has(this.store);
  }

  set is_full(is_full: boolean) {
    if (is_full) FULL.set(this.store, 0);
    else FULL.delete(this.store);
  }

  /** Does something with the shop, in this tablet's own store. */
  at<T>(work: (shop: OpenShop, session: Session) => Promise<T>): Promise<T> {
    return AT.run(this.store, () => work(this.shop as OpenShop, this.session as Session));
  }

  /** Starts the app, enrolled or not. */
  async open(): Promise<void> {
    this.start += 1;
    const mine = this.start;
    this.shop = await AT.run(this.store, () =>
      openShop(
        { newVersion: false, takeNewVersion: async () => {} },
        {
          fetch: this.net.line(() => this.start !== mine),
          raw_ms: () => this.now_ms() + this.off_ms,
          random: (count) => Uint8Array.from({ length: count }, () => this.chance.below(256)),
          status: {},
          withLock: (_, work) => work(),
        },
      ),
    );
    if (this.chain && this.shop) goOnWith(this.shop, this.chain);
  }

  async enrol(code: string): Promise<void> {
    await this.open();
    await this.at(async (shop) => {
      await shop.enrolment.enrol(code);
      await shop.exchange.sendNow();
    });
    await this.signIn();
  }

  async signIn(): Promise<void> {
    this.session = await this.at((shop) => shop.people.unlock(this.person, this.first.passcode));
  }

  /** Ends the app in the middle of whatever it does, and starts it again. */
  async kill(): Promise<void> {
    this.is_full = false;
    if (PLANTED.name === SAME_WRITER && this.shop) this.chain = chainOf(this.shop);
    this.shop?.letGo();
    await this.open();
    await this.signIn();
  }

  /** A second tablet with a copy of all this one holds, and the same token: a clone. */
  async clone(chance: Chance): Promise<Tablet> {
    const { name, person, first, net, now_ms } = this;
    const two = new Tablet(`${name}′`, person, first, net, chance, now_ms);
    two.store = await cloned(this.store, (store, work) => AT.run(store, work));
    two.off_ms = this.off_ms;
    two.chain = PLANTED.name === SAME_WRITER ? this.shop && chainOf(this.shop) : null;
    await two.open();
    await two.signIn();
    return two;
  }

  /** Ends the app for good; its store stays. */
  stop(): void {
    this.start += 1;
    this.shop?.letGo();
  }

  /** Reads the stores past the app. */
  held(): Promise<Held> {
    return AT.run(this.store, async () => {
      const database = await openDB(databaseName(this.first.book));
      const all = (name: string) => database.getAll(name);
      const keys = (name: string) => database.getAllKeys(name) as Promise<string[]>;
      const [entries, standing, rows] = await Promise.all(['entries', 'standing', 'rows'].map(all));
      const [unsent, unsent_files, refused] = await Promise.all(
        ['unsent', 'unsent_files', 'refused'].map(keys),
      );
      const [names, bytes] = [await keys('files'), await all('files')];
      database.close();
      return {
        entries: new Map(entries?.map(({ id, line }) => [id, line])),
        standing: new Map(standing?.map((one) => [one.record, one])),
        rows: new Map(rows?.map(({ record, row }) => [record, row])),
        files: new Map(names.map((name, at) => [name, bytes[at]])),
        unsent: unsent ?? [],
        unsent_files: unsent_files ?? [],
        refused: refused ?? [],
      };
    });
  }

  /** How many entries and files wait in the stores. */
  private waits(): Promise<number> {
    return AT.run(this.store, async () => {
      const database = await openDB(databaseName(this.first.book));
      const counts = await Promise.all([database.count('unsent'), database.count('unsent_files')]);
      database.close();
      return counts[0] + counts[1];
    });
  }

  /** Meets the server until nothing waits here. */
  async sendAll(pass_hour: () => Promise<unknown>): Promise<void> {
    let problem: string | null = null;
    for (let round = 0; round < 12; round += 1) {
      const state = await this.at((shop) => shop.exchange.sendNow());
      problem = state.problem ?? (state.away ? 'away' : null);
      if (!problem && (await this.waits()) === 0) return;
      await pass_hour();
    }
    throw new Error(`Tablet ${this.name} still holds something back: ${problem}`);
  }
}

/** Does what a person tries; a refusal with a sentence is an answer like any other. */
export async function tried<T>(work: Promise<T>): Promise<T | null> {
  try {
    return await work;
  } catch (error) {
    if (error instanceof Refused) return null;
    throw error;
  }
}

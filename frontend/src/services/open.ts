/** Opens the shop: wires the parts of one browser's book together. */

import { dayIn, timeIn } from '../domain/days';
import { Refused } from '../domain/errors';
import { BookStore } from '../storage/database';
import { live } from '../storage/notifier';
import { heldBook } from '../storage/registry';
import { type AgainTold, bringUp, TELLS_NOBODY } from './again';
import { KeptBook } from './book';
import { KeptCapture } from './capture';
import { Clock } from './clock';
import { enrol, type KeptDevice, readDevice, shownDevice } from './device';
import { KeptDrafts } from './drafts';
import { KeptExchange } from './exchange';
import { KeptFiles } from './files';
import { type Turns, turns, type WithLock, withLock } from './locks';
import { KeptMoves } from './moves';
import { KeptPeople } from './people';
import { type Frame, KeptPlaces, NO_FRAME } from './places';
import { type Fetch, Server } from './server';
import type { Device, Session, Shop, Version } from './shop';
import { KeptStatus, type Surroundings, thisBrowser } from './status';
import { KeptStick } from './stick';
import { KeptTake } from './take';
import { Telling } from './told';
import { UndoLine } from './undo';
import { type Random, Writer } from './writer';

const AUTHORITY_MS = 14 * 86_400_000;

/** What a browser gives; tests give their own. */
export interface Around {
  fetch: Fetch;
  raw_ms: () => number;
  random: Random;
  withLock: WithLock;
  turns: Turns;
  /** Names the rules this build derives by. */
  rules: string;
  /** What is told while the book is worked out again by them, as it is opened. */
  again: AgainTold;
  status: Surroundings;
  version: Version;
  /** Name of the build that runs here; the server knows its own. */
  app: string;
}

/** Put in by the build: `frontend/build/rules`. */
declare const __RULES__: string;

/** The parts that need an enrolled browser. */
interface Parts {
  store: BookStore;
  device: KeptDevice;
  writer: Writer;
  book: KeptBook;
  capture: KeptCapture;
  moves: KeptMoves;
  exchange: KeptExchange;
  files: KeptFiles;
  status: KeptStatus;
  take: KeptTake;
  stick: KeptStick;
  drafts: KeptDrafts;
  places: KeptPlaces;
}

export class OpenShop implements Shop {
  session: Session | null = null;
  fault: string | null = null;
  readonly people: KeptPeople;
  readonly api: Server;
  readonly clock: Clock;
  readonly version: Version;
  private frame: Frame = NO_FRAME;
  private parts: Parts | null = null;
  private refreshing: Promise<void> = Promise.resolve();
  private leave = () => {};
  private readonly listeners = new Set<() => void>();
  private readonly writtenListeners = new Set<() => void>();

  constructor(private readonly around: Around) {
    this.clock = new Clock(around.raw_ms);
    this.api = new Server(around.fetch);
    this.version = around.version;
    this.people = new KeptPeople({
      server: this.api,
      clock: this.clock,
      store: () => this.parts?.store ?? null,
      mayDecide: () => this.mayDecide(),
      tell: (session) => {
        this.session = session;
        this.tell();
      },
    });
  }

  get device(): Device | null {
    return this.parts ? shownDevice(this.parts.device) : null;
  }
  get airframe() {
    return this.frame.airframe;
  }
  get definition() {
    return this.frame.definition;
  }
  get standard() {
    return this.frame.standard;
  }
  get book() {
    return this.need().book;
  }
  get capture() {
    return this.need().capture;
  }
  get moves() {
    return this.need().moves;
  }
  get exchange() {
    return this.need().exchange;
  }
  get files() {
    return this.need().files;
  }
  get status() {
    return this.need().status;
  }
  get stick() {
    return this.need().stick;
  }
  get take() {
    return this.need().take;
  }
  get drafts() {
    return this.need().drafts;
  }
  get places() {
    return this.need().places;
  }

  readonly enrolment = {
    enrol: (code: string) => this.enrol(code),
    enrolDesk: () => this.enrol(null),
    code: async () => (await this.api.post<{ code: string }>('/api/enrolment-codes')).code,
  };

  now(): number {
    return this.clock.now_ms();
  }

  today(): string {
    return this.clock.today();
  }

  moment(ms: number): [day: string, time: string] {
    return [dayIn(this.clock.zone, ms), timeIn(this.clock.zone, ms)];
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  live<T>(query: () => Promise<T>, tell: (value: T) => void, failed?: (error: unknown) => void) {
    return live(this.need().store.changes, query, tell, failed);
  }

  /** Calls after each act that a person writes here. */
  onWritten(act: () => void): void {
    this.writtenListeners.add(act);
  }

  /** Opens the book this browser holds, if it holds one. */
  async open(): Promise<void> {
    const book = await heldBook();
    if (book === null) return;
    const store = this.openStore(book);
    const device = await readDevice(store);
    if (device) await this.use(store, device, this.around.again);
    else await store.close();
  }

  /** Closes the store; used by tests. */
  async close(): Promise<void> {
    await this.parts?.store.close();
    this.parts = null;
    this.leave();
  }

  /** Lets the store go at once: the page is put aside, and is loaded anew if it comes back. */
  letGo(): void {
    this.parts?.store.letGo();
    this.leave();
  }

  /** Tells those who subscribed that members have changed. */
  tell(): void {
    for (const listener of [...this.listeners]) listener();
  }

  private async enrol(code: string | null): Promise<Device> {
    const { store, device } = await enrol(this.api, code, (book) => this.openStore(book));
    await this.use(store, device);
    await this.people.fetch();
    await this.people.adopt();
    void this.exchange.sendNow();
    return shownDevice(device);
  }

  private openStore(book: string): BookStore {
    return new BookStore(book, (sentence) => {
      this.fault = sentence;
      // While the book is opened nothing else is on the screen that could say so.
      if (sentence !== null && !this.parts) this.around.again.tell('waits');
      this.tell();
    });
  }

  private async use(store: BookStore, device: KeptDevice, told = TELLS_NOBODY): Promise<void> {
    await this.parts?.store.close();
    this.leave();
    this.leave = await bringUp(store, this.around.rules, this.around.turns, told);
    this.api.token = device.token;
    this.parts = await this.build(store, device);
    await this.parts.exchange.resume();
    await Promise.all([this.parts.take.resume(), this.refresh(), this.people.resume()]);
    store.changes.listen((stores) => {
      if (['standing', 'files', 'people'].some((name) => stores.has(name))) void this.refresh();
      // What waits is shown on every sheet, and must be true the moment it is stored.
      if (stores.has('unsent') || stores.has('unsent_files')) this.tell();
    });
    this.tell();
  }

  private async build(store: BookStore, device: KeptDevice): Promise<Parts> {
    const { clock, api: server, people, around } = this;
    const { name, letter } = shownDevice(device);
    const writer = await Writer.start(store, clock, name, around.random);
    const files = new KeptFiles(store, server, clock);
    const undo = new UndoLine({ store, writer, clock, device: name });
    writer.written = (act) => {
      undo.push(act);
      for (const tell of this.writtenListeners) tell();
    };
    const standardPin = () => this.frame.standard_pin;
    const refuseDecision = (session: Session) => this.refuseDecision(session);
    const airframe = () => this.frame.airframe?.record ?? null;
    const shared = { store, writer, files, undo, clock, standardPin, refuseDecision };
    const book = new KeptBook(store, writer, () => people.labels());
    const status = new KeptStatus(store, clock, around.status);
    const telling = new Telling({ store, server, clock, status, letter, app: around.app });
    const exchange = this.buildExchange(store, files, writer, telling);
    const { withLock } = around;
    const tell = () => this.tell();
    return {
      ...{ store, device, writer, files, book, exchange, status },
      take: new KeptTake({ store, server, clock, withLock, book, exchange, status, tell }),
      capture: new KeptCapture({ ...shared, letter, airframe }),
      moves: new KeptMoves({ ...shared, people }),
      stick: new KeptStick({ store, device, clock }),
      drafts: new KeptDrafts(store),
      places: new KeptPlaces(store),
    };
  }

  private buildExchange(
    store: BookStore,
    files: KeptFiles,
    writer: Writer,
    telling: Telling,
  ): KeptExchange {
    return new KeptExchange({
      ...{ store, server: this.api, clock: this.clock, withLock: this.around.withLock },
      sendFiles: () => files.send(),
      offerFiles: () => files.offerAgain(),
      fetchNamed: async () => {
        await files.fetchNamed();
        await this.people.fetch();
        await this.refresh();
      },
      tellServer: (epoch, state) => telling.tell(epoch, state),
      received: (tx, ids) => writer.received(tx, ids),
      tell: () => this.tell(),
    });
  }

  /** Reads the frame and the session anew, one time after the other. */
  private refresh(): Promise<void> {
    this.refreshing = this.refreshing.then(() => this.refreshNow()).catch(() => {});
    return this.refreshing;
  }

  private async refreshNow(): Promise<void> {
    const { parts } = this;
    if (!parts) return;
    const before = this.frame;
    const [[book], frame] = await Promise.all([
      parts.book.records('book'),
      parts.places.frame(),
      this.people.refresh(),
    ]);
    if (typeof book?.time_zone === 'string') this.clock.zone = book.time_zone;
    this.frame = frame;
    if (!isSameFrame(before, this.frame)) this.tell();
  }

  private mayDecide(): boolean {
    const met_ms = this.parts?.exchange.state.last_contact_ms ?? null;
    return met_ms === null || this.clock.now_ms() - met_ms <= AUTHORITY_MS;
  }

  private refuseDecision(_session: Session): void {
    if (this.mayDecide()) return;
    throw new Refused(
      'authority_lapsed',
      'This tablet has not met the server for 14 days, so decisions wait.',
      'Recording goes on. Bring the tablet to the server once.',
    );
  }

  private need(): Parts {
    if (this.parts) return this.parts;
    throw new Refused(
      'not_enrolled',
      'This browser is not enrolled in a book yet.',
      'Enrol it with a code from the lead, or sign in at a desk.',
    );
  }
}

/** Opens the shop of this browser. */
export async function openShop(version: Version, given: Partial<Around> = {}): Promise<OpenShop> {
  const shop = new OpenShop({
    fetch: (address, init) => fetch(address, init),
    raw_ms: Date.now,
    random: (count) => crypto.getRandomValues(new Uint8Array(count)),
    withLock,
    turns: turns(),
    rules: __RULES__,
    again: TELLS_NOBODY,
    status: given.status ?? thisBrowser(),
    version,
    app: 'development',
    ...given,
  });
  await shop.open();
  return shop;
}

/** Definitions and standards are read once by hash, so the same one is the same object. */
function isSameFrame(one: Frame, two: Frame): boolean {
  const small = ({ airframe, standard_pin }: Frame) => JSON.stringify([airframe, standard_pin]);
  if (one.definition !== two.definition || one.standard !== two.standard) return false;
  return small(one) === small(two);
}

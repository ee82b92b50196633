/** Brings this browser's book and the server's together, in small steps that can stop anywhere. */

import { canonical, sha256Hex } from '@sync/canonical';
import { offsetMs } from '@sync/clock';
import {
  type Answer,
  batches,
  type Cursor,
  fromPage,
  type Head,
  headVerdict,
  type Mark,
  mark,
  mergeAnswer,
  newEpoch,
  nextStep,
  type Outbox,
  readAll,
  stopReason,
  takePage,
} from '@sync/exchange';
import { Refused } from '../domain/errors';
import type { BookStore } from '../storage/database';
import { type Arrival, DERIVED_STORES, takeIn } from '../storage/derive';
import { OUTBOX_STORES, readHeld, readOutbox, writeOutbox } from '../storage/outbox';
import type { StoreName, Transaction, WriteTransaction } from '../storage/schema';
import { countWaiting, WAITING_STORES, type WaitingCounts } from '../storage/waiting';
import type { Clock } from './clock';
import { anotherBook } from './device';
import type { WithLock } from './locks';
import { holdsOther } from './same_log';
import { SentTally } from './sent';
import { isAway, type Server } from './server';
import type { Exchange, ExchangeState, RefusedEntry } from './shop';

const PAGE = 1000;
const COMPARED_AGAIN_MS = 3_600_000;
const STILL_OTHER =
  'The server holds other entries than this device, and offering all of them again changed nothing.' +
  ' Everything stays here. Ask whoever keeps the server to check the book.';
/** Where the two digests are kept that stayed the same after all was offered. */
const IN_VAIN = 'offered in vain';
const STORES = [...new Set<StoreName>([...DERIVED_STORES, ...OUTBOX_STORES])];

export interface ExchangeHost {
  store: BookStore;
  server: Server;
  clock: Clock;
  withLock: WithLock;
  /** Sends the files that wait. */
  sendFiles(): Promise<void>;
  /** Puts every file held in line again: the server may have lost it. */
  offerFiles(): Promise<void>;
  /** Fetches what the book names and this browser lacks: people, definitions, standards. */
  fetchNamed(): Promise<void>;
  /** Tells the server what it should know of this browser. */
  tellServer(epoch: string, state: ExchangeState): Promise<number | null>;
  /** Moves this browser's clock past ids that came. */
  received(tx: WriteTransaction, ids: readonly string[]): Promise<void>;
  tell(): void;
}

type Top = Pick<Head, 'book' | 'epoch' | 'seq' | 'server_time'>;

export class KeptExchange implements Exchange {
  state: ExchangeState = {
    running: false,
    away: false,
    last_contact_ms: null,
    problem: null,
    shut: null,
    refused: [],
    offset_ms: 0,
    clock_off_ms: null,
    whole_ms: null,
    offered_ms: null,
    sent: null,
  };
  private readonly tally = new SentTally();
  private run: Promise<ExchangeState> | null = null;
  private compared_ms = Number.NEGATIVE_INFINITY;
  /** Whether the logs differ by the very digests by which they did after all was offered. */
  private isInVain = false;

  constructor(private readonly host: ExchangeHost) {}

  /** Reads what was known when the app was last open. */
  async resume(): Promise<void> {
    const { store, clock } = this.host;
    const [kept, whole, refused] = await store.read(['meta', ...REFUSED_STORES], (tx) => {
      const meta = tx.objectStore('meta');
      return Promise.all([meta.get('contact'), meta.get('whole'), shownRefused(tx)]);
    });
    const contact = (kept ?? {}) as Partial<ExchangeState>;
    const { last_contact_ms = null, offset_ms = 0, shut = null } = contact;
    clock.offset_ms = offset_ms;
    const { whole_ms = null, offered_ms = null } = (whole ?? {}) as Partial<ExchangeState>;
    this.set({ last_contact_ms, offset_ms, shut, whole_ms, offered_ms, refused });
  }

  sendNow(): Promise<ExchangeState> {
    this.run ??= this.all().finally(() => {
      this.run = null;
    });
    return this.run;
  }

  private async all(): Promise<ExchangeState> {
    const { store, withLock } = this.host;
    this.set({ running: true });
    let problem: string | null = null;
    let away = false;
    let isOurs = false;
    try {
      this.tally.begin(await this.waits());
      const name = `skinpin-exchange-${store.book}`;
      await withLock(name, async () => {
        isOurs = true;
        problem = await this.bringTogether();
        // Last of all: no photograph waits for this answer, and none is held up by its refusal.
        const other = problem === null ? await this.otherLog() : null;
        if (other !== null) problem = await this.offerAll(other);
        problem ??= this.isInVain ? STILL_OTHER : null;
      });
    } catch (error) {
      away = isAway(error);
      if (!away) problem = sentenceOf(error);
      if (isShut(error)) await this.keepShut(error);
    }
    if (isOurs && !away && !this.state.shut) await this.tellServer();
    const sent = await this.waits().then(
      (waits) => this.tally.end(waits),
      () => this.state.sent,
    );
    this.set({ running: false, problem, away, sent });
    return this.state;
  }

  private async bringTogether(): Promise<string | null> {
    const problem = await this.rounds();
    await this.host.sendFiles();
    await this.host.fetchNamed();
    if (problem === null && !this.isInVain) await this.keepWhole();
    return problem;
  }

  /** What the server is told is worth no refusal: it is told another time. */
  private async tellServer(): Promise<void> {
    try {
      const { epoch } = (await this.outbox()).cursor;
      const clock_off_ms = await this.host.tellServer(epoch, this.state);
      if (clock_off_ms !== null) this.set({ clock_off_ms });
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
    }
  }

  private waits(): Promise<WaitingCounts> {
    return this.host.store.read(WAITING_STORES, countWaiting);
  }

  /** Keeps that all the server had is here now; what was offered anew is there once none of it waits. */
  private async keepWhole(): Promise<void> {
    const waits = await this.waits();
    const is_there = waits.entries + waits.files === 0;
    const offered_ms = is_there ? null : this.state.offered_ms;
    await this.keepAge({ whole_ms: this.host.clock.now_ms(), offered_ms });
  }

  private async keepAge(age: Pick<ExchangeState, 'whole_ms' | 'offered_ms'>): Promise<void> {
    await this.host.store.write(['meta'], (tx) => tx.objectStore('meta').put(age, 'whole'));
    this.set(age);
  }

  /** Keeps why this device is let in no more: it must be seen with no network too. */
  private async keepShut({ code, message, hint }: Refused): Promise<void> {
    const shut = { code, message, hint };
    const { last_contact_ms, offset_ms } = this.state;
    await this.host.store.write(['meta'], (tx) =>
      tx.objectStore('meta').put({ last_contact_ms, offset_ms, shut }, 'contact'),
    );
    this.set({ shut });
  }

  /** Goes round until nothing is left to do, or says why it stopped. */
  private async rounds(): Promise<string | null> {
    const marks: Mark[] = [];
    let server_seq: number | null = null;
    for (;;) {
      const outbox = await this.outbox();
      const step = nextStep(outbox, server_seq);
      if (step === 'rest') return null;
      // A page is asked for after every batch: a server that was restored shorter and grew again to
      // the same length is only noticed by the id at the cursor.
      if (step === 'send') server_seq = await this.send();
      else if (step === 'fetch') server_seq = await this.fetch(outbox);
      else await this.askFiles();
      marks.push(mark(await this.outbox()));
      const reason = stopReason(marks);
      if (reason) return reason;
    }
  }

  /** Asks now and then whether the server's log is still the one this browser has; where it is not,
  returns both digests, for everything is to be offered again. */
  private async otherLog(): Promise<string | null> {
    const { store, server, clock } = this.host;
    const now_ms = clock.raw_ms();
    if (Math.abs(now_ms - this.compared_ms) < COMPARED_AGAIN_MS) return null;
    this.compared_ms = now_ms; // also where it is refused: a server in trouble is not asked each run
    const other = await holdsOther(store, server);
    const in_vain = await store.read(['meta'], (tx) => tx.objectStore('meta').get(IN_VAIN));
    this.isInVain = other !== null && other === in_vain;
    return this.isInVain ? null : other;
  }

  /** Offers everything again. Where that changes neither log it is not done again, a restart or not,
  until one of them changes. */
  private async offerAll(other: string): Promise<string | null> {
    const { store, server } = this.host;
    await this.offerAgain((await this.outbox()).cursor.epoch);
    const problem = await this.bringTogether();
    if (problem !== null || (await holdsOther(store, server)) !== other) return problem;
    this.isInVain = true;
    await store.write(['meta'], (tx) => tx.objectStore('meta').put(other, IN_VAIN));
    return null;
  }

  private outbox(): Promise<Outbox> {
    const { store } = this.host;
    return store.read(OUTBOX_STORES, (tx) => readOutbox(tx, store.book));
  }

  private async send(): Promise<null> {
    const { store } = this.host;
    const { ids, lines } = await store.read(['unsent', 'entries'], async (tx) => {
      const ids = batches(await readHeld(tx))[0] ?? [];
      const rows = await Promise.all(ids.map((id) => tx.objectStore('entries').get(id)));
      return { ids, lines: rows.map((row) => row?.line ?? '') };
    });
    const body = lines.map((line) => `${line}\n`).join('');
    const path = `/api/entries?book=${encodeURIComponent(store.book)}`;
    const headers = { 'Content-Type': 'application/x-ndjson' };
    const text = await this.ask(path, { method: 'POST', headers, body });
    const answer = (await readJson(text.body)) as Answer;
    if (await this.take(answer, text)) {
      await this.change((outbox) => mergeAnswer(outbox, ids, answer));
      await this.showRefused();
    }
    return null;
  }

  private async fetch({ cursor }: Outbox): Promise<number | null> {
    const { store } = this.host;
    const query = new URLSearchParams({
      ...{ book: store.book, epoch: cursor.epoch, after: String(cursor.seq) },
      ...{ at: cursor.at, limit: String(PAGE) },
    });
    const answer = await this.ask(`/api/entries?${query}`, {});
    const [head, lines] = fromPage(answer.body);
    if (!(await this.take(head, answer))) return null;
    const reads = await readAll(lines, sha256);
    const arrivals = reads.flatMap(({ entry, line, sha256 }) =>
      entry ? [{ entry, line, sha256, came_ms: head.ahead?.[entry.id] }] : [],
    );
    await this.takePage(cursor, head, arrivals);
    return head.seq;
  }

  private async takePage(asked: Cursor, head: Head, arrivals: Arrival[]): Promise<void> {
    const { store } = this.host;
    await store.write(
      STORES,
      async (tx) => {
        const outbox = await readOutbox(tx, store.book);
        // Another tab was here meanwhile, or the page was stored just before the store was lost.
        if (canonical(outbox.cursor) !== canonical(asked)) return;
        const { held } = await takeIn(tx, arrivals);
        await this.host.received(tx, held);
        await writeOutbox(tx, outbox, takePage(outbox, head, held));
      },
      'what came from the server',
    );
  }

  private async askFiles(): Promise<void> {
    await this.host.offerFiles();
    await this.change((outbox) => ({ ...outbox, ask_files: false }));
  }

  /** Takes time, book and epoch of an answer; false: everything is offered again. */
  private async take(top: Top, { sent_ms, received_ms }: Asked): Promise<boolean> {
    const { clock, store } = this.host;
    const verdict = headVerdict(await this.outbox(), top);
    if (verdict === 'another_book') throw anotherBook();
    clock.offset_ms = offsetMs(top.server_time, sent_ms, received_ms);
    const contact = { last_contact_ms: clock.now_ms(), offset_ms: clock.offset_ms, shut: null };
    await store.write(['meta'], (tx) => tx.objectStore('meta').put(contact, 'contact'));
    this.set({ ...contact, away: false });
    if (verdict === 'go_on') return true;
    await this.offerAgain(top.epoch);
    return false;
  }

  private async offerAgain(epoch: string): Promise<void> {
    const { store, clock } = this.host;
    const isFirst = (await this.outbox()).cursor.epoch === '';
    await store.write([...OUTBOX_STORES, 'entries'], async (tx) => {
      const held = await tx.objectStore('entries').getAllKeys();
      const outbox = await readOutbox(tx, store.book);
      await writeOutbox(tx, outbox, newEpoch(outbox, epoch, held));
    });
    if (!isFirst) await this.keepAge({ whole_ms: null, offered_ms: clock.now_ms() });
    await this.showRefused();
  }

  private async change(step: (outbox: Outbox) => Outbox): Promise<void> {
    const { store } = this.host;
    await store.write([...OUTBOX_STORES, 'entries'], async (tx) => {
      const outbox = await readOutbox(tx, store.book);
      await writeOutbox(tx, outbox, step(outbox));
    });
  }

  private async showRefused(): Promise<void> {
    this.set({ refused: await this.host.store.read(REFUSED_STORES, shownRefused) });
  }

  private async ask(path: string, init: RequestInit): Promise<Asked> {
    const { server, clock, store } = this.host;
    const headers = new Headers(init.headers);
    headers.set('Skinpin-Unsent', String(await countUnsent(store)));
    const sent_ms = clock.raw_ms();
    const answer = await server.send(path, { ...init, headers });
    const received_ms = clock.raw_ms();
    try {
      return { sent_ms, received_ms, body: await answer.text() };
    } catch (cause) {
      throw new Refused('away', 'The server’s answer was cut short.', '', { cause });
    }
  }

  private set(change: Partial<ExchangeState>): void {
    this.state = { ...this.state, ...change };
    this.host.tell();
  }
}

interface Asked {
  sent_ms: number;
  received_ms: number;
  body: string;
}

/** How many entries and files wait here: a lead sees it before a device is ended. */
async function countUnsent(store: BookStore): Promise<number> {
  const counts = await store.read(['unsent', 'unsent_files'], (tx) =>
    Promise.all([tx.objectStore('unsent').count(), tx.objectStore('unsent_files').count()]),
  );
  return counts[0] + counts[1];
}

/** Says whether the server knows this device no more, or lets it in no more. */
function isShut(error: unknown): error is Refused {
  return error instanceof Refused && ['device_ended', 'not_enrolled'].includes(error.code);
}

const sha256 = (text: string) => sha256Hex(text, crypto.subtle);

const REFUSED_STORES: StoreName[] = ['refused', 'entries'];

/** What was refused, and what each entry was about. */
async function shownRefused(tx: Transaction): Promise<RefusedEntry[]> {
  const rows = await tx.objectStore('refused').getAll();
  const entries = await Promise.all(rows.map(({ id }) => tx.objectStore('entries').get(id)));
  return rows.map(({ id, code, reason }, at) => {
    const { record = '', kind = '' } = entries[at] ?? {};
    return { id, code, reason, record, kind };
  });
}

async function readJson(text: string): Promise<unknown> {
  try {
    return JSON.parse(text);
  } catch (cause) {
    throw new Refused('away', 'The server’s answer was cut short.', '', { cause });
  }
}

function sentenceOf(error: unknown): string {
  if (error instanceof Refused) return [error.message, error.hint].filter(Boolean).join(' ');
  return error instanceof Error ? error.message : String(error);
}

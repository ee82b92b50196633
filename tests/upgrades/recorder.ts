// Writes down what the app asks of a server and what it is answered, browser by browser.
import 'fake-indexeddb/auto';
import { AsyncLocalStorage } from 'node:async_hooks';
import { randomFillSync } from 'node:crypto';
import { IDBFactory } from 'fake-indexeddb';
import { type OpenShop, openShop } from '../../frontend/src/services/open';
import type { Session } from '../../frontend/src/services/shop';
import { databaseName } from '../../frontend/src/storage/schema';
import { readDatabase, toText } from './stores';

/** Each browser's code finds the store of its browser, whatever runs beside it. */
const AT = new AsyncLocalStorage<IDBFactory>();
Object.defineProperty(globalThis, 'indexedDB', { get: () => AT.getStore(), configurable: true });
// Browsers share no tabs: what one store announces is nothing to the others.
Object.assign(globalThis, { BroadcastChannel: undefined, __RULES__: 'recorded' });

/** Before the backup; up to the copy of the database; and what came after both. */
export type Part = 'opening' | 'before' | 'after';

/** Text as it is, other bytes in base64. */
export type Body = string | { base64: string } | null;

export interface Asked {
  from: string;
  part: Part;
  /** The server's time, ms. */
  at_ms: number;
  method: string;
  path: string;
  headers: Record<string, string>;
  body: Body;
  status: number;
  answer: Body;
  /** The cookie that the answer set. */
  cookie?: string;
}

const DAY_MS = 86_400_000;
/** Headers that the server reads; the rest is the transport's. */
const READ = ['authorization', 'content-type', 'skinpin-unsent', 'skinpin-sha256'];
const SAID = [...READ, 'skinpin-size-bytes'];

export class Recorder {
  part: Part = 'opening';
  readonly asked: Asked[] = [];
  private readonly cookies: Record<string, string> = {};

  /** `day` is the date that the server runs on. */
  constructor(
    private readonly address: string,
    private readonly day: string,
  ) {}

  /** The way from one browser to the server. */
  from(name: string) {
    return async (path: string, init: RequestInit): Promise<Response> => {
      const at = this.asked.push({} as Asked) - 1;
      const headers = new Headers(init.headers);
      const said = SAID.flatMap((one) => {
        const value = headers.get(one);
        return value === null ? [] : [[one, value] as const];
      });
      headers.set('origin', this.address);
      if (this.cookies[name]) headers.set('cookie', this.cookies[name]);
      const at_ms = (Date.now() % DAY_MS) + Date.parse(`${this.day}T00:00:00Z`);
      const { part } = this;
      const answer = await fetch(`${this.address}${path}`, { ...init, headers });
      const cookie = answer.headers.get('set-cookie')?.split(';')[0];
      if (cookie) this.cookies[name] = cookie;
      const bytes = Buffer.from(await answer.arrayBuffer());
      this.asked[at] = {
        ...{ from: name, part, at_ms, method: init.method ?? 'GET', path },
        ...{ headers: Object.fromEntries(said), body: await bodyOf(init.body ?? null) },
        ...{ status: answer.status, answer: needed(answer, told(bytes)) },
        ...(cookie ? { cookie } : {}),
      };
      const { status } = answer;
      return new Response(status === 204 ? null : bytes, { status, headers: answer.headers });
    };
  }
}

/** One browser: its own store, and the app that is open in it. */
export class Browser {
  private readonly store = new IDBFactory();
  private shop: OpenShop | null = null;

  constructor(
    private readonly recorder: Recorder,
    readonly name: string,
  ) {}

  /** Opens the app and enrols it, with a code or as the desk of whoever is signed in. */
  async enrol(code: string | null): Promise<this> {
    const around = {
      fetch: this.recorder.from(this.name),
      random: (count: number) => randomFillSync(new Uint8Array(count)),
      status: {},
      withLock: <T>(_: string, work: () => Promise<T>) => work(),
      app: 'recorded',
    };
    const version = { newVersion: false, takeNewVersion: async () => {} };
    this.shop = await AT.run(this.store, () => openShop(version, around));
    await this.at(({ enrolment }) =>
      code === null ? enrolment.enrolDesk() : enrolment.enrol(code),
    );
    await this.meet();
    return this;
  }

  /** Does something with the shop, in this browser's own store. */
  at<T>(work: (shop: OpenShop) => Promise<T>): Promise<T> {
    return AT.run(this.store, () => work(this.shop as OpenShop));
  }

  signIn(person: string, passcode: string): Promise<Session> {
    return this.at((shop) => shop.people.unlock(person, passcode));
  }

  /** The whole database of its book, as text. */
  kept(book: string): Promise<string> {
    return AT.run(this.store, async () => toText(await readDatabase(databaseName(book))));
  }

  /** Meets the server, and says so if anything was held back. */
  async meet(): Promise<void> {
    const state = await this.at((shop) => shop.exchange.sendNow());
    if (state.away || state.problem)
      throw new Error(`${this.name} could not send: ${state.problem ?? 'the server is away'}`);
  }
}

/** Of a page its head is kept and of a file nothing: both can be told from the rest. */
function needed(answer: Response, body: Body): Body {
  const kind = answer.headers.get('content-type') ?? '';
  if (kind.startsWith('application/x-ndjson')) return `${String(body).split('\n')[0]}\n`;
  return new URL(answer.url).pathname.startsWith('/api/photographs/') ? null : body;
}

async function bodyOf(body: BodyInit | null): Promise<Body> {
  if (body === null || typeof body === 'string') return body;
  return told(Buffer.from(await new Response(body).arrayBuffer()));
}

function told(bytes: Buffer): Body {
  const text = bytes.toString('utf8');
  return Buffer.from(text, 'utf8').equals(bytes) ? text : { base64: bytes.toString('base64') };
}

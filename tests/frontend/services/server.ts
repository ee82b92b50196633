/** A server in memory, for tests: it keeps the protocol and fails on request. */

import { sha256Hex } from '@sync/canonical';
import { type Draft, writeAct } from '@sync/chain';
import { newClock } from '@sync/clock';
import { type Entry, fromLine } from '@sync/entry';
import { PART_BYTES } from '../../../frontend/src/services/parts';
import { sha256OfBytes } from '../../../frontend/src/storage/files';
import { cursorVerdict, isAhead, judge, pageLength, readLines, toPage } from '../../sync/server';

export const BOOK = 'book-marram';
export const LEAD = 'person-lead';
export const INSPECTOR = 'person-inspector';
export const FITTER = 'person-fitter';

interface Stored {
  line: string;
  sha256: string;
  id: string;
  act: string;
}

/** One request that goes wrong: before the server sees it, after it, or cut in its answer. */
export type Fault = 'lost' | 'answer lost' | 'answer cut' | null;

const PARTS = /^\/api\/photographs\/([0-9a-f]{64})\/parts(?:\/(\d+))?$/;

interface Begun {
  size_bytes: number | null;
  here: Map<number, Uint8Array<ArrayBuffer>>;
}

const sha256 = (text: string) => sha256Hex(text, crypto.subtle);

export class FakeServer {
  book = BOOK;
  epoch = 'epoch-1';
  log: Stored[] = [];
  refused: string[] = [];
  readonly files = new Map<string, ArrayBuffer>();
  /** Parts of files that are not whole yet. */
  readonly parts = new Map<string, Begun>();
  people: Record<string, unknown>[] = [];
  passcodes: Record<string, string> = {};
  /** Milliseconds by which the server's clock is ahead of the tablet's. */
  ahead_ms = 0;
  /** When entries came that are stamped too far ahead of the server; null: not said. */
  came_ms: number | null = null;
  isAway = false;
  /** The token that is let in no more. */
  ended: string | null = null;
  /** What the last request to the log said waits. */
  unsent: string | null = null;
  /** What a tablet told last of itself. */
  told: Record<string, unknown> | null = null;
  /** Ids refused for a reason of their own. */
  readonly refuse = new Set<string>();
  /** Asked before each request. */
  fault: () => Fault = () => null;
  readonly asked: string[] = [];
  private pushing: Promise<unknown> = Promise.resolve();
  private server = { clock: newClock('server00'), n: 0, prev: null as string | null };

  constructor(private readonly now_ms: () => number) {}

  readonly fetch = async (address: string, init: RequestInit): Promise<Response> => {
    const fault = this.isAway ? 'lost' : this.fault();
    if (fault === 'lost') throw new TypeError('failed to fetch');
    const answer = await this.answer(address, init);
    if (fault === 'answer lost') throw new TypeError('connection reset');
    if (fault !== 'answer cut') return answer;
    const text = await answer.text();
    return new Response(text.slice(0, Math.floor(text.length / 2)), { status: answer.status });
  };

  /** Writes an act as the server itself, for a person. */
  async write(by: string, drafts: Draft[]): Promise<Entry[]> {
    const fields = { act: `act-${this.log.length}`, by, device: 'server', schema: 1, sha256 };
    const wall = '2025-11-03T08:15:30+00:00';
    const [chain, written] = await writeAct(this.server, this.now_ms(), drafts, {
      ...fields,
      wall,
    });
    this.server = chain;
    for (const [entry, line] of written) await this.keep(entry, line);
    return written.map(([entry]) => entry);
  }

  async keep(entry: Entry, line: string): Promise<void> {
    const row = { line, id: entry.id, act: entry.act.id, sha256: await sha256(line) };
    this.log.push(row);
  }

  entries(): Entry[] {
    return this.log.map(({ line }) => fromLine(line));
  }

  ids(): Set<string> {
    return new Set(this.log.map(({ id }) => id));
  }

  /** Goes back to an older copy of its disk; `files` are lost with it. */
  restore(length: number, files: readonly string[] = []): void {
    this.log = this.log.slice(0, length);
    for (const one of files) this.files.delete(one);
  }

  private async answer(address: string, init: RequestInit): Promise<Response> {
    const url = new URL(address, 'http://test');
    const method = init.method ?? 'GET';
    this.asked.push(`${method} ${url.pathname}`);
    const token = new Headers(init.headers).get('Authorization');
    const asks_as_device = !/enrol|sign|session/.test(url.pathname);
    if (this.ended && token === `Bearer ${this.ended}` && asks_as_device) {
      return trouble(401, 'device_ended', 'Tablet A was ended by a lead: left on the ferry.');
    }
    if (url.pathname === '/api/entries') {
      this.unsent = new Headers(init.headers).get('Skinpin-Unsent');
      if (method !== 'POST') return this.pull(url);
      const pushed = this.pushing.then(() => this.push(url, String(init.body)));
      this.pushing = pushed.catch(() => null);
      return pushed;
    }
    if (url.pathname === '/api/entries/digest') {
      const ids = this.log.slice(0, Number(url.searchParams.get('upto'))).map(({ id }) => id);
      const told = await sha256(ids.sort().join('\n'));
      return json({ epoch: this.epoch, entries: ids.length, sha256: told });
    }
    if (url.pathname === '/api/devices/told') {
      this.told = JSON.parse(String(init.body));
      return json({ clock_off_ms: this.ahead_ms });
    }
    if (url.pathname === '/api/people') {
      const isEnrolled = new Headers(init.headers).has('Authorization');
      return json(this.people.map((one) => (isEnrolled ? one : { ...one, unlock: undefined })));
    }
    if (url.pathname === '/api/photographs/missing') {
      const { sha256: asked } = JSON.parse(String(init.body)) as { sha256: string[] };
      const begun = asked.filter((one) => this.parts.has(one));
      const missing = asked.filter((one) => !this.files.has(one));
      return json({ missing, ...(begun.length > 0 ? { begun } : {}) });
    }
    const part = PARTS.exec(url.pathname);
    if (part) return this.part(part[1] as string, part[2], init);
    if (url.pathname.startsWith('/api/photographs/')) return this.file(url, method, init);
    return this.person(url.pathname, init);
  }

  private person(path: string, init: RequestInit): Response {
    const body = init.body ? JSON.parse(String(init.body)) : {};
    if (path === '/api/sign-in') {
      const isRight = this.passcodes[body.person] === body.passcode;
      const listed = this.people.find((one) => one.person === body.person);
      if (isRight && !listed?.role) return trouble(403, 'no_role', 'No role in this book.');
      if (isRight) return json({ person: body.person });
      return trouble(401, 'wrong_passcode', 'The passcode is not right.');
    }
    if (path === '/api/session') return json({ person: null });
    if (path === '/api/sign-out') return new Response(null, { status: 204 });
    if (path === '/api/enrol' || path === '/api/enrol-desk') {
      const letter = path === '/api/enrol' ? 'A' : null;
      if (path === '/api/enrol' && body.code !== '123456') {
        return trouble(403, 'no_such_code', 'The code is not known.');
      }
      return json({
        tablet: 'tablet-a',
        letter,
        token: this.ended ? 't1' : 't0',
        book: this.book,
        epoch: this.epoch,
      });
    }
    return trouble(404, 'not_found', `There is nothing at ${path}.`);
  }

  /** Parts of 1 MiB by their places; all of them make the file, if its hash is right. */
  private async part(name: string, n: string | undefined, init: RequestInit): Promise<Response> {
    const begun = this.parts.get(name) ?? { size_bytes: null, here: new Map() };
    if (n === undefined) {
      const here = [...begun.here.keys()].sort();
      return json({ whole: this.files.has(name), size_bytes: begun.size_bytes, here });
    }
    if (this.files.has(name)) return json({ missing: [] });
    const headers = new Headers(init.headers);
    const body = new Uint8Array(init.body as ArrayBuffer);
    if ((await sha256OfBytes(body.buffer)) !== headers.get('Skinpin-Sha256')) {
      return trouble(422, 'wrong_sha256', 'The part has another SHA-256.');
    }
    begun.size_bytes = Number(headers.get('Skinpin-Size-Bytes'));
    begun.here.set(Number(n), body);
    this.parts.set(name, begun);
    const count = Math.ceil(begun.size_bytes / PART_BYTES);
    const missing = Array.from({ length: count }, (_, at) => at).filter(
      (at) => !begun.here.has(at),
    );
    if (missing.length > 0) return json({ missing });
    const all = await new Blob(
      Array.from({ length: count }, (_, at) => begun.here.get(at) as Uint8Array<ArrayBuffer>),
    ).arrayBuffer();
    this.parts.delete(name);
    if ((await sha256OfBytes(all)) !== name) return trouble(422, 'wrong_sha256', 'Another file.');
    this.files.set(name, all);
    return json({ missing });
  }

  private async file(url: URL, method: string, init: RequestInit): Promise<Response> {
    const name = url.pathname.split('/').at(-1) as string;
    if (method === 'PUT') {
      const isNew = !this.files.has(name);
      this.files.set(name, init.body as ArrayBuffer);
      return new Response(null, { status: isNew ? 201 : 200 });
    }
    const bytes = this.files.get(name);
    return bytes
      ? new Response(bytes)
      : trouble(404, 'no_such_photograph', 'The file is not here.');
  }

  private async push(url: URL, body: string): Promise<Response> {
    if (url.searchParams.get('book') !== this.book) {
      return trouble(409, 'another_book', 'This tablet holds another book.');
    }
    const reads = await readLines(body, sha256);
    const held = Object.fromEntries(this.log.map((one) => [one.id, one.sha256]));
    const wanted = reads.filter((one) => !this.refuse.has(one.entry?.id ?? ''));
    const results = judge(wanted, held);
    for (const [at, read] of wanted.entries()) {
      if (results[at]?.result === 'stored' && read.entry) await this.keep(read.entry, read.line);
    }
    const byId = new Map(results.map((one) => [one.id, one]));
    return json({
      ...this.top(),
      results: reads.map(({ entry }) => {
        const id = entry?.id ?? null;
        if (this.refuse.has(id ?? '')) {
          this.refused.push(id as string);
          return { id, result: 'refused', code: 'wrong_shape', reason: 'Refused by the test.' };
        }
        const seq = this.log.findIndex((one) => one.id === id) + 1;
        return { ...byId.get(id), seq };
      }),
    });
  }

  private pull(url: URL): Response {
    const query = (name: string) => url.searchParams.get(name) ?? '';
    const cursor = { epoch: query('epoch'), seq: Number(query('after')), at: query('at') };
    const verdict = cursorVerdict(this.epoch, this.log[cursor.seq - 1]?.id ?? null, cursor);
    if (verdict === 'new_epoch') this.epoch = `${this.epoch}+`;
    const rows = verdict === 'page' ? this.log.slice(cursor.seq) : [];
    const count = pageLength(
      rows.map(({ act }) => act),
      Number(query('limit')),
    );
    const lines = rows.slice(0, count).map(({ line }) => line);
    const to = verdict === 'page' ? cursor.seq + count : 0;
    const head = { ...this.top(), to, at: this.log[to - 1]?.id ?? '' };
    return new Response(toPage({ ...head, ahead: this.ahead(rows.slice(0, count)) }, lines));
  }

  private ahead(rows: readonly { id: string }[]): Record<string, number> {
    const { came_ms } = this;
    if (came_ms === null) return {};
    const ahead = rows.filter(({ id }) => isAhead(id, this.now_ms() + this.ahead_ms));
    return Object.fromEntries(ahead.map(({ id }) => [id, came_ms]));
  }

  private top() {
    const server_time = this.now_ms() + this.ahead_ms;
    return { book: this.book, epoch: this.epoch, seq: this.log.length, server_time };
  }
}

function json(value: unknown): Response {
  return new Response(JSON.stringify(value), { headers: { 'Content-Type': 'application/json' } });
}

function trouble(status: number, code: string, message: string): Response {
  return new Response(JSON.stringify({ code, message, hint: '' }), { status });
}

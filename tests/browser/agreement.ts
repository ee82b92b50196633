// What a tablet holds, what it shows and what the server has: three accounts of the same work.
import { createHash } from 'node:crypto';
import type { Page } from 'playwright-core';
import { session } from './acts';
import type { Server } from './server';

/** One tablet's stores as they are on the disk, read past the app. */
export interface Held {
  ids: string[];
  /** Ids of the entries that the device asked about wrote. */
  own: string[];
  unsent: string[];
  refused: string[];
  files: string[];
  unsent_files: { sha256: string; photographs: string[] }[];
  /** Lines of what waits, and of every photograph and mark. */
  lines: string[];
  rows: Row[];
}

export interface Row {
  record: string;
  number: string;
  state: string | null;
  photographs: number;
}

/** Reads the stores of a page's browser in one transaction. */
export function readHeld(page: Page, book: string, device: string): Promise<Held> {
  return page.evaluate(
    async ([name, wrote]) => {
      const settled = <T>(asked: IDBRequest<T>) =>
        new Promise<T>((done, failed) => {
          asked.onsuccess = () => done(asked.result);
          asked.onerror = () => failed(asked.error);
        });
      const database = await settled(indexedDB.open(name as string));
      const stores = ['entries', 'unsent', 'refused', 'files', 'unsent_files', 'rows'];
      const tx = database.transaction(stores, 'readonly');
      const keys = (store: string) => settled(tx.objectStore(store).getAllKeys());
      const all = (store: string) => settled(tx.objectStore(store).getAll());
      const [entries, unsent, refused, files, unsent_files, rows] = await Promise.all([
        all('entries'),
        ...['unsent', 'refused', 'files'].map(keys),
        all('unsent_files'),
        all('rows'),
      ] as Promise<never[]>[]);
      database.close();
      const waits = new Set<string>(unsent);
      const lines = ((entries ?? []) as { id: string; kind: string; line: string }[]).map(
        (entry) => ({
          ...entry,
          isWanted: waits.has(entry.id) || /^(photo|mark)/.test(entry.kind),
        }),
      );
      return {
        ids: lines.map(({ id }) => id),
        own: lines.filter(({ line }) => line.includes(`"device":"${wrote}"`)).map(({ id }) => id),
        ...{ unsent, refused, files, unsent_files },
        lines: lines.filter(({ isWanted }) => isWanted).map(({ line }) => line),
        rows: (rows ?? []).map(({ row }) => row),
      } as unknown as Held;
    },
    [`skinpin-${book}`, device],
  );
}

/** Hashes under which a page's browser keeps other bytes than it should. */
export function damagedFiles(page: Page, book: string): Promise<string[]> {
  return page.evaluate(async (name) => {
    const settled = <T>(asked: IDBRequest<T>) =>
      new Promise<T>((done, failed) => {
        asked.onsuccess = () => done(asked.result);
        asked.onerror = () => failed(asked.error);
      });
    const database = await settled(indexedDB.open(name));
    const files = database.transaction('files').objectStore('files');
    const [keys, all] = await Promise.all([settled(files.getAllKeys()), settled(files.getAll())]);
    database.close();
    const hashes = await Promise.all(all.map((bytes) => crypto.subtle.digest('SHA-256', bytes)));
    const hex = (hash: ArrayBuffer) =>
      [...new Uint8Array(hash)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
    return (keys as string[]).filter((key, at) => hex(hashes[at] as ArrayBuffer) !== key);
  }, `skinpin-${book}`);
}

/** A text that changes when anything that is held does. */
export function signature({ ids, unsent, refused, files, unsent_files }: Held): string {
  return JSON.stringify([ids.length, unsent, refused, files.length, unsent_files]);
}

export interface Counted {
  entries: number;
  files: number;
  words: string;
}

interface Line {
  id: string;
  record: string;
  kind: string;
  set: { photograph?: string; defect?: string; sha256?: string };
}

/** Counts what waits from the lines alone, and says it as the title block should. */
export function countHeld(held: Held): Counted {
  const lines = held.lines.map((line) => JSON.parse(line) as Line);
  const waits = new Set(held.unsent);
  const waiting = lines.filter(({ id }) => waits.has(id));
  const wrote = new Set(held.own);
  const own = lines.filter(({ id }) => wrote.has(id));
  const of = (kind: string) => waiting.filter((line) => line.kind === kind);
  const records = waiting.filter(({ kind }) => kind !== 'photograph' && kind !== 'mark');
  const photographs = [
    ...of('photograph').map(({ record }) => record),
    ...of('mark').map(({ record }) => photographOf(lines, record)),
    ...held.unsent_files.flatMap((file) => namedBy(own, file)),
  ];
  const counts = { record: sizeOf(records.map(({ record }) => record)) };
  const words = wordsOf({ ...counts, photograph: sizeOf(photographs) });
  const files = held.unsent_files.length;
  const said = words || wordsOf({ file: files });
  return { entries: waits.size, files, words: said ? `${said} waiting` : 'Nothing waiting' };
}

/** Every photograph taken here whose bytes wait; bytes no entry names are one of their own. */
function namedBy(lines: Line[], file: Held['unsent_files'][number]): string[] {
  const named = lines.filter(({ set }) => set.sha256 === file.sha256).map(({ record }) => record);
  return named.length > 0 ? named : file.photographs;
}

/** Hashes of the photographs of a defect. */
export function picturesOf({ lines }: Held, defect: string): string[] {
  const read = lines.map((line) => JSON.parse(line) as Line);
  return read.flatMap(({ set }) => (set.defect === defect && set.sha256 ? [set.sha256] : []));
}

function photographOf(lines: Line[], mark: string): string {
  return lines.find(({ record, set }) => record === mark && set.photograph)?.set.photograph ?? mark;
}

function sizeOf(records: string[]): number {
  return new Set(records).size;
}

function wordsOf(counts: Record<string, number>): string {
  return Object.entries(counts)
    .filter(([, count]) => count > 0)
    .map(([one, count]) => `${count} ${one}${count === 1 ? '' : 's'}`)
    .join(', ');
}

export interface Shown {
  /** What the title block says of what waits; null: no title block. */
  words: string | null;
  /** Second line of SEND NOW; null: the screen has no such key. */
  key: string | null;
}

/** Reads what a screen says of what waits. */
export function readShown(page: Page): Promise<Shown> {
  return page.evaluate(() => {
    const plain = (element: Element | null | undefined) =>
      element?.textContent?.replace(/\s+/g, ' ').trim() ?? null;
    const cells = [...document.querySelectorAll('.title-cell')];
    const cell = cells.find((one) => one.textContent?.includes('Waiting on this tablet'));
    const keys = [...document.querySelectorAll('button.key')];
    const send = keys.find((one) => /^SEND\s+NOW/.test(one.textContent ?? ''));
    return {
      words: plain(cell?.querySelector('dd:last-of-type')),
      key: plain(send?.querySelector('.key-second')),
    };
  });
}

/** Whether the key's second line is true of a count; what names no count claims nothing. */
export function keyHolds(key: string | null, { entries, files }: Counted): boolean {
  if (key === null) return true;
  const [, count, what] = /^(\d+) (files? )?waiting$/.exec(key) ?? [];
  if (count) return Number(count) === (what ? files : entries) && (!what || entries === 0);
  return !/^(nothing waiting|all sent)/.test(key) || entries + files === 0;
}

/** The server's own account, asked for with the token of a lead's desk. */
export class Auditor {
  private constructor(
    private readonly server: Server,
    private readonly cookie: string,
    private readonly token: string,
    readonly book: string,
  ) {}

  static async start(server: Server): Promise<Auditor> {
    const cookie = await session(server, 'Lead');
    const keys = await crypto.subtle.generateKey({ name: 'ECDSA', namedCurve: 'P-256' }, true, [
      'sign',
    ]);
    const { kty, crv, x, y } = await crypto.subtle.exportKey('jwk', keys.publicKey);
    const answer = await fetch(`${server.address}/api/enrol-desk`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', origin: server.address, cookie },
      body: JSON.stringify({ public_key: { kty, crv, x, y } }),
    });
    if (!answer.ok) throw new Error(`The desk was not enrolled: ${await answer.text()}`);
    const { token, book } = (await answer.json()) as { token: string; book: string };
    return new Auditor(server, cookie, token, book);
  }

  /** Every entry the server has, by id: pulled from the start each time. */
  async entries(): Promise<Map<string, string>> {
    const found = new Map<string, string>();
    let [epoch, after, at] = ['', 0, ''];
    for (;;) {
      const query = new URLSearchParams({ book: this.book, epoch, at, limit: '1000' });
      const text = await (await this.ask(`/api/entries?${query}&after=${after}`)).text();
      const [first = '', ...lines] = text.split('\n').filter(Boolean);
      const head = JSON.parse(first) as { epoch: string; to: number; at: string; seq: number };
      for (const line of lines) found.set((JSON.parse(line) as { id: string }).id, line);
      [epoch, after, at] = [head.epoch, head.to, head.at];
      if (head.to >= head.seq) return found;
    }
  }

  /** Which of these files the server says it lacks. */
  async missing(sha256: string[]): Promise<string[]> {
    const answer = await this.ask('/api/photographs/missing', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ sha256 }),
    });
    return ((await answer.json()) as { missing: string[] }).missing;
  }

  /** A file's hash, worked out here from the bytes that the server hands out. */
  async hashOf(sha256: string): Promise<string> {
    const answer = await this.ask(`/api/photographs/${sha256}`);
    return createHash('sha256')
      .update(Buffer.from(await answer.arrayBuffer()))
      .digest('hex');
  }

  async rows(): Promise<Row[]> {
    return (await (await this.ask('/api/defects')).json()) as Row[];
  }

  private async ask(path: string, init: RequestInit = {}): Promise<Response> {
    const known = { authorization: `Bearer ${this.token}`, cookie: this.cookie };
    const headers = { origin: this.server.address, ...known, ...(init.headers as object) };
    const answer = await fetch(`${this.server.address}${path}`, { ...init, headers });
    if (!answer.ok) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
    return answer;
  }
}

/** A digest of rows in any order, each field by name. */
export function digestOf(rows: readonly Row[]): string {
  const texts = rows.map((row) => JSON.stringify(sorted(row))).sort();
  return createHash('sha256').update(texts.join('\n')).digest('hex');
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (typeof value !== 'object' || value === null) return value;
  const pairs = Object.entries(value).sort(([one], [other]) => (one < other ? -1 : 1));
  return Object.fromEntries(pairs.map(([name, inner]) => [name, sorted(inner)]));
}

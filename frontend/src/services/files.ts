/** Photographs, definitions and standards by hash: kept here, sent once, fetched when named. */

import { Refused } from '../domain/errors';
import { isShown } from '../imaging/upright';
import type { BookStore } from '../storage/database';
import {
  DERIVED_STORES,
  fileCame,
  NAMED_STORES,
  namedFiles,
  photographFiles,
} from '../storage/derive';
import {
  checkKept,
  keepFetched,
  keepFile,
  keepRendition,
  largestRendition,
  readFile,
  readRendition,
  sha256OfBytes,
} from '../storage/files';
import type { Clock } from './clock';
import { PART_BYTES, sendInParts } from './parts';
import { isAway, type Server } from './server';
import type { Files, Json } from './shop';

const ASKED_AT_ONCE = 500;
/** After this time it is asked again whether what was sent is still there. */
const ASKED_AGAIN_MS = 3_600_000;
/** Refusals that say something of one file, not of the way to the server. */
const OF_THE_FILE = ['too_large', 'wrong_sha256', 'wrong_shape', 'cut_short'];

export class KeptFiles implements Files {
  /** Addresses given out and not yet given back; watched by tests. */
  readonly given = new Set<string>();
  private readonly read = new Map<string, Json>();
  /** What was read back last: the screen that shows it need not read it again. */
  private last: { sha256: string; bytes: Promise<ArrayBuffer> } | null = null;
  private asked_ms = Number.NEGATIVE_INFINITY;

  constructor(
    private readonly store: BookStore,
    private readonly server: Server,
    private readonly clock: Clock,
  ) {}

  async photographUrl(sha256: string, size?: 320 | 1000 | 1600): Promise<string> {
    const bytes = await this.shownBytes(sha256, size);
    const url = URL.createObjectURL(new Blob([bytes]));
    this.given.add(url);
    return url;
  }

  release(url: string): void {
    if (this.given.delete(url)) URL.revokeObjectURL(url);
  }

  /** Reads bytes back that were stored just now; what does not hold is taken off again. */
  async check(sha256: string, what: string): Promise<void> {
    const bytes = checkKept(this.store, sha256, what);
    this.last = { sha256, bytes };
    await bytes;
  }

  /** Bytes that this browser can show: of a HEIC often the server's copy alone. */
  private async shownBytes(sha256: string, size?: number): Promise<ArrayBuffer> {
    const here = await this.readBack(sha256, size);
    if (!here) return this.fetchPicture(sha256, size);
    if (await isShown(here)) return here;
    const copy = size ?? 1600;
    const kept = await readRendition(this.store, sha256, copy);
    return kept ?? this.fetchPicture(sha256, copy).catch(() => Promise.reject(notShown()));
  }

  /** The bytes just stored, else the small copy asked for, which is quicker to show, else all. */
  private async readBack(sha256: string, size?: number): Promise<ArrayBuffer | null> {
    const { last } = this;
    this.last = null;
    const found = last?.sha256 === sha256 ? await last.bytes.catch(() => null) : null;
    const small = found || !size ? null : await readRendition(this.store, sha256, size);
    return found ?? small ?? readFile(this.store, sha256);
  }

  bytes(sha256: string): Promise<ArrayBuffer | null> {
    return readFile(this.store, sha256);
  }

  async json(sha256: string): Promise<Json | null> {
    const known = this.read.get(sha256);
    if (known !== undefined) return known;
    const bytes = await readFile(this.store, sha256);
    if (!bytes) return null;
    const value = JSON.parse(new TextDecoder().decode(bytes)) as Json;
    this.read.set(sha256, value);
    return value;
  }

  async keep(bytes: ArrayBuffer, media_type: string): Promise<string> {
    const file = await this.fileOf(bytes, media_type, null);
    await keepFile(this.store, file, `a file (${megabytes(bytes)} MB)`);
    return file.sha256;
  }

  /** What is kept of bytes until the server has them. */
  async fileOf(bytes: ArrayBuffer, media_type: string, photograph: string | null) {
    const sha256 = await sha256OfBytes(bytes);
    return { bytes, sha256, media_type, photograph, wall_ms: this.clock.raw_ms() };
  }

  /** Sends the files the server lacks; each is out of the waiting line once it is safe there. */
  async send(): Promise<void> {
    await this.askHeld();
    const waiting = await this.store.read(['unsent_files'], (tx) =>
      tx.objectStore('unsent_files').getAll(),
    );
    let problem: Refused | null = null;
    // One file that is refused holds up no other; a network that is away, or a shut door, does.
    const refused = (error: unknown) => {
      if (!(error instanceof Refused) || !OF_THE_FILE.includes(error.code)) throw error;
      problem ??= error;
    };
    for (let at = 0; at < waiting.length; at += ASKED_AT_ONCE) {
      const part = waiting.slice(at, at + ASKED_AT_ONCE);
      const { missing, begun } = await this.askMissing(part.map(({ sha256 }) => sha256));
      await this.acknowledge(part.map((one) => one.sha256).filter((one) => !missing.has(one)));
      for (const { sha256, media_type } of part) {
        if (!missing.has(sha256)) continue;
        await this.put(sha256, media_type, begun.has(sha256)).catch(refused);
      }
    }
    if (problem) throw problem;
  }

  /** Puts every file held in line again: the server may have lost it. */
  async offerAgain(): Promise<void> {
    await this.putInLine(await this.held());
  }

  /** Asks now and then whether files that were sent are still there, and puts the others in line.

  A server whose disk was put back as it was before a photograph came, and whose log is no shorter,
  notices nothing of it. */
  private async askHeld(): Promise<void> {
    const now_ms = this.clock.raw_ms();
    if (Math.abs(now_ms - this.asked_ms) < ASKED_AGAIN_MS) return;
    const held = await this.held();
    for (let at = 0; at < held.length; at += ASKED_AT_ONCE) {
      const { missing } = await this.askMissing(held.slice(at, at + ASKED_AT_ONCE));
      if (missing.size > 0) await this.putInLine([...missing]);
    }
    this.asked_ms = now_ms;
  }

  private held(): Promise<string[]> {
    return this.store.read(['files'], (tx) => tx.objectStore('files').getAllKeys());
  }

  private async putInLine(files: readonly string[]): Promise<void> {
    const wall_ms = this.clock.raw_ms();
    await this.store.write(['files', 'unsent_files', 'standing'], async (tx) => {
      const known = await photographFiles(tx);
      for (const sha256 of files) {
        const none = { photographs: [], media_type: '', size_bytes: 0 };
        const row = { sha256, wall_ms, ...(known[sha256] ?? none) };
        if ((await tx.objectStore('unsent_files').count(sha256)) === 0) {
          await tx.objectStore('unsent_files').put(row);
        }
      }
    });
  }

  /** Fetches definitions and standards that the book names and this browser lacks. */
  async fetchNamed(): Promise<void> {
    const lacking = await this.store.read(NAMED_STORES, namedFiles);
    for (const sha256 of lacking) {
      const answer = await this.fetchMissing(sha256);
      if (!answer) continue;
      await keepFetched(this.store, answer, sha256);
      await this.store.write(DERIVED_STORES, (tx) => fileCame(tx, sha256));
    }
  }

  private async fetchMissing(sha256: string): Promise<ArrayBuffer | null> {
    try {
      return await (await this.server.send(`/api/photographs/${sha256}`, {})).arrayBuffer();
    } catch (error) {
      // The entry can be here before the file is there; the next exchange asks again.
      if (error instanceof Refused && error.code !== 'away') return null;
      throw error;
    }
  }

  /** Fetches a picture, and keeps it: it is there next time with no network. */
  private async fetchPicture(sha256: string, size?: number): Promise<ArrayBuffer> {
    try {
      const query = size ? `?size=${size}` : '';
      const answer = await this.server.send(`/api/photographs/${sha256}${query}`, {});
      const bytes = await answer.arrayBuffer();
      if (size) await keepRendition(this.store, bytes, sha256, size);
      else await keepFetched(this.store, bytes, sha256);
      return bytes;
    } catch (error) {
      const kept = isAway(error) ? await largestRendition(this.store, sha256) : null;
      if (kept) return kept;
      throw error;
    }
  }

  private async askMissing(sha256: string[]) {
    const path = '/api/photographs/missing';
    const told = await this.server.post<{ missing: string[]; begun?: string[] }>(path, { sha256 });
    return { missing: new Set(told.missing), begun: new Set(told.begun) };
  }

  private async put(sha256: string, media_type: string, isBegun: boolean): Promise<void> {
    const body = await readFile(this.store, sha256);
    if (!body) return;
    if (body.byteLength > PART_BYTES) await sendInParts(this.server, sha256, body, isBegun);
    else await this.putWhole(sha256, media_type, body);
    await this.acknowledge([sha256]);
  }

  private async putWhole(sha256: string, media_type: string, body: ArrayBuffer): Promise<void> {
    const headers = { 'Content-Type': media_type || 'application/octet-stream' };
    const path = `/api/photographs/${sha256}`;
    await this.server.send(path, { method: 'PUT', headers, body }, 120_000);
  }

  private async acknowledge(safe: string[]): Promise<void> {
    await this.store.write(['unsent_files'], async (tx) => {
      for (const sha256 of safe) await tx.objectStore('unsent_files').delete(sha256);
    });
  }
}

export function megabytes(bytes: ArrayBuffer): string {
  return (bytes.byteLength / 1e6).toFixed(1);
}

function notShown(): Refused {
  return new Refused(
    'not_shown',
    'The photograph is stored; it is a HEIC, which this browser can’t show.',
    'It is shown once the server has it and answers.',
  );
}

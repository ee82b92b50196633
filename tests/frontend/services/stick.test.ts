import 'fake-indexeddb/auto';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { OpenShop } from '../../../frontend/src/services/open';
import { KeptStick } from '../../../frontend/src/services/stick';
import { crc32, utf8 } from '../../../frontend/src/services/zip';
import PICTURES from '../imaging/pictures.json' with { type: 'json' };
import { INSPECTOR, PASSCODES, PLACE, Workshop } from './bench';

let workshop: Workshop;
let shop: OpenShop;
let folder: string;

beforeEach(async () => {
  workshop = await new Workshop().open();
  shop = await workshop.tablet();
  folder = mkdtempSync(join(tmpdir(), 'stick-'));
});
afterEach(async () => {
  await workshop.close();
  rmSync(folder, { recursive: true });
});

const PYTHON = '.venv/bin/python';
const picture = (name: keyof typeof PICTURES) =>
  new Uint8Array(Buffer.from(PICTURES[name], 'base64')).buffer as ArrayBuffer;

/** Two records, a photograph each, out of reach of the server. */
async function work() {
  workshop.server.isAway = true;
  const session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
  for (const name of ['plain-wide', 'turned-exif-8'] as const) {
    const { record } = await shop.capture.shutter(session, PLACE);
    const taken = picture(name);
    const { record: photograph } = await shop.capture.addPhotograph(
      session,
      record,
      taken,
      'close',
    );
    await shop.capture.checked(photograph);
  }
}

class Held {
  readonly parts: Uint8Array[] = [];
  async write(bytes: Uint8Array) {
    this.parts.push(bytes.slice());
  }
  save(): string {
    const path = join(folder, 'written.zip');
    writeFileSync(path, Buffer.concat(this.parts));
    return path;
  }
}

interface Told {
  base: string;
  info: Record<string, string>;
  files: string[];
}

/** Another reader, written from RFC 8493, in another language. */
function readOutside(path: string): Told {
  return JSON.parse(execFileSync(PYTHON, ['-m', 'tests.rfc8493', path], { encoding: 'utf8' }));
}

describe('the file for a memory stick', () => {
  it('is a valid bag in a ZIP to a reader that knows nothing of the app', async () => {
    await work();
    const sink = new Held();
    const name = shop.stick.name();
    const written = await shop.stick.write(name, sink);
    const { base, info, files } = readOutside(sink.save());
    expect(base).toBe(name);
    expect(name).toMatch(/^A-2025-11-03-\d{4}$/);
    expect(info).toMatchObject({
      'Skinpin-Book': workshop.server.book,
      'Skinpin-Tablet': 'tablet-a',
      'Skinpin-Letter': 'A',
      'Skinpin-Entries': String(written.entries),
    });
    expect(files.filter((one) => one.startsWith('data/entries-'))).toHaveLength(1);
    const photographs = files.filter((one) => one.startsWith('data/photographs/'));
    expect(photographs).toHaveLength(written.files);
    expect(photographs.every((one) => one.endsWith('.jpg'))).toBe(true);
    expect(written).toMatchObject({ left_out: 0, damaged: 0 });
    const size_bytes = sink.parts.reduce((sum, part) => sum + part.byteLength, 0);
    expect(written.size_bytes).toBe(size_bytes);
  });

  it('marks nothing as sent; the counts fall when the server says it has it', async () => {
    await work();
    const before = (await shop.status.line()).waiting;
    expect(before).toMatchObject({ records: 2, photographs: 2 });
    await shop.stick.write('A', new Held());
    expect((await shop.status.line()).waiting).toEqual(before);
    const entries = workshop.server.entries().length;
    workshop.server.isAway = false;
    await shop.exchange.sendNow();
    expect((await shop.status.line()).waiting).toMatchObject({ entries: 0, files: 0 });
    expect(workshop.server.entries().length).toBe(entries + before.entries);
  });

  it('holds whole acts and exactly the lines that wait, in their order', async () => {
    await work();
    const sink = new Held();
    await shop.stick.write('A', sink);
    const text = Buffer.concat(sink.parts).toString('latin1');
    workshop.server.isAway = false;
    await shop.exchange.sendNow();
    const sent = workshop.server.log.map(({ line }) => line);
    const lines = sent.filter((line) => text.includes(line));
    const acts = lines.map((line) => JSON.parse(line).act as { id: string; of: number });
    for (const { id, of } of acts) expect(acts.filter((one) => one.id === id)).toHaveLength(of);
    expect(lines).toHaveLength(4);
    expect(text).toContain(lines.map((line) => `${line}\n`).join(''));
  });

  it('is signed by the key of the enrolment over the tag manifest', async () => {
    await work();
    const store = (shop.stick as unknown as { host: ConstructorParameters<typeof KeptStick>[0] })
      .host;
    const sink = new Held();
    await shop.stick.write('A', sink);
    const text = Buffer.concat(sink.parts).toString('latin1');
    const signed = /(?:[0-9a-f]{64} {2}\S+\.txt\n){3}/g.exec(text.slice(text.indexOf('tagmani')));
    const signature = /signature\.txt([A-Za-z0-9_-]{86})\n/.exec(text)?.[1] as string;
    const key = await crypto.subtle.importKey(
      'jwk',
      store.device.public_key,
      { name: 'ECDSA', namedCurve: 'P-256' },
      true,
      ['verify'],
    );
    const isGood = (words: string) =>
      crypto.subtle.verify(
        { name: 'ECDSA', hash: 'SHA-256' },
        key,
        Buffer.from(signature, 'base64url'),
        utf8(words),
      );
    expect(await isGood(signed?.[0] as string)).toBe(true);
    expect(await isGood(`${signed?.[0]}x`)).toBe(false);
  });

  it('leaves out and counts what has no room in one file', async () => {
    await work();
    const { host } = shop.stick as unknown as { host: ConstructorParameters<typeof KeptStick>[0] };
    const small = new KeptStick({ ...host, most_bytes: 0 });
    const sink = new Held();
    const told: [number, number][] = [];
    const written = await small.write('A', sink, (done, of) => told.push([done, of]));
    expect(written.files).toBe(0);
    expect(written.left_out).toBeGreaterThan(0);
    expect(told.at(-1)).toEqual([written.left_out, written.left_out]);
    expect(readOutside(sink.save()).info['Payload-Oxum']).toMatch(/\.1$/);
  });

  it('stops where the stick is full, and everything waits as before', async () => {
    await work();
    const before = (await shop.status.line()).waiting;
    const full = { write: () => Promise.reject(new Error('no room')) };
    await expect(shop.stick.write('A', full)).rejects.toThrow('no room');
    expect((await shop.status.line()).waiting).toEqual(before);
  });
});

describe('the check sum of a ZIP', () => {
  it('is that of the published check value', () => {
    // ISO 3309 as in zlib: the check value of "123456789", common to all tables of CRC-32.
    expect(crc32(utf8('123456789'))).toBe(0xcbf43926);
    expect(crc32(utf8(''))).toBe(0);
  });
});

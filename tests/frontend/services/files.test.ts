import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { OpenShop } from '../../../frontend/src/services/open';
import { sha256OfBytes } from '../../../frontend/src/storage/files';
import PICTURES from '../imaging/pictures.json' with { type: 'json' };
import { DEFINITION, INSPECTOR, LEAD, PASSCODES, PLACE, Workshop } from './bench';

let workshop: Workshop;
let shop: OpenShop;

beforeEach(async () => {
  workshop = await new Workshop().open();
  shop = await workshop.tablet();
});
afterEach(() => workshop.close());

const picture = () =>
  new Uint8Array(Buffer.from(PICTURES['plain-wide'], 'base64')).buffer as ArrayBuffer;

describe('files', () => {
  it('fetches the definitions that the book names, and the frame has them', () => {
    expect(shop.definition).toEqual(DEFINITION);
    expect(shop.airframe).toEqual({
      record: 'airframe-1',
      type: 'Marram',
      constructor_number: '2603',
    });
  });

  it('works the rows out anew when a definition comes after the records', async () => {
    const session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
    const { record } = await shop.capture.shutter(session, PLACE);
    expect(await shop.book.defect(record)).toMatchObject({ zone: '111', member: 'F6' });
    const bytes = new TextEncoder().encode(
      JSON.stringify({ ...DEFINITION, zones: [{ ...DEFINITION.zones[0], zone: '119' }] }),
    ).buffer as ArrayBuffer;
    const sha256 = await sha256OfBytes(bytes);
    const [first] = workshop.server.entries().filter(({ kind }) => kind === 'airframe');
    await workshop.server.write(LEAD, [
      {
        record: 'airframe-1',
        kind: 'airframe',
        set: { definition: { name: 'Marram', issue: '2', sha256 } },
        seen: { definition: [first?.id as string] },
        relies: first?.relies ?? [],
      },
    ]);
    await shop.exchange.sendNow();
    expect(await shop.book.defect(record)).toMatchObject({ zone: null });
    workshop.server.files.set(sha256, bytes);
    await shop.exchange.sendNow();
    expect(await shop.book.defect(record)).toMatchObject({ zone: '119' });
  });

  it('shows a photograph from this tablet, else from the server, and gives addresses back', async () => {
    const session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
    const { record } = await shop.capture.shutter(session, PLACE);
    const { sha256 } = await shop.capture.addPhotograph(session, record, picture(), 'wide');
    workshop.server.isAway = true;
    const url = await shop.files.photographUrl(sha256);
    expect(await (await fetch(url)).arrayBuffer()).toEqual(picture());
    shop.files.release(url);
    expect(shop.files.given.size).toBe(0);
    await expect(fetch(url)).rejects.toThrow();
    await expect(shop.files.photographUrl('f'.repeat(64))).rejects.toMatchObject({ code: 'away' });
    workshop.server.isAway = false;
    workshop.server.files.set('e'.repeat(64), picture());
    const there = await shop.files.photographUrl('e'.repeat(64), 320);
    expect(await (await fetch(there)).arrayBuffer()).toEqual(picture());
    shop.files.release(there);
  });

  it('shows a picture of the server again with no network, once it was seen', async () => {
    const sha256 = await sha256OfBytes(picture());
    workshop.server.files.set(sha256, picture());
    shop.files.release(await shop.files.photographUrl(sha256, 320));
    workshop.server.isAway = true;
    for (const size of [320, 1000, undefined] as const) {
      const url = await shop.files.photographUrl(sha256, size);
      expect(await (await fetch(url)).arrayBuffer()).toEqual(picture());
      shop.files.release(url);
    }
    expect(await shop.files.bytes(sha256)).toBeNull();
    expect((await shop.status.waiting()).files).toBe(0);
  });

  it('sends a file the server has already only as a question', async () => {
    const session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
    const { record } = await shop.capture.shutter(session, PLACE);
    const { sha256 } = await shop.capture.addPhotograph(session, record, picture(), 'wide');
    workshop.server.files.set(sha256, picture());
    await shop.exchange.sendNow();
    expect(workshop.server.asked.filter((one) => one.startsWith('PUT'))).toEqual([]);
    expect((await shop.status.waiting()).files).toBe(0);
  });

  it('asks once an hour whether what it sent is still there, and sends again what is gone', async () => {
    const session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
    const { record } = await shop.capture.shutter(session, PLACE);
    const { sha256 } = await shop.capture.addPhotograph(session, record, picture(), 'wide');
    await shop.exchange.sendNow();
    // The server's disk is put back as it was before; its log is no shorter, so nobody can see it.
    workshop.server.files.delete(sha256);
    workshop.now_ms += 3_599_000;
    await shop.exchange.sendNow();
    expect(workshop.server.files.has(sha256)).toBe(false);
    workshop.now_ms += 1_001;
    await shop.exchange.sendNow();
    expect(workshop.server.files.has(sha256)).toBe(true);
    expect((await shop.status.waiting()).files).toBe(0);
  });

  it('keeps the rest waiting when one file is refused', async () => {
    const session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
    const { record } = await shop.capture.shutter(session, PLACE);
    await shop.capture.addPhotograph(session, record, picture(), 'wide');
    const ask = workshop.server.files.set.bind(workshop.server.files);
    workshop.server.files.set = () => {
      throw new TypeError('disk full');
    };
    expect((await shop.exchange.sendNow()).away).toBe(true);
    expect((await shop.status.waiting()).photographs).toBe(1);
    workshop.server.files.set = ask;
    await shop.exchange.sendNow();
    expect((await shop.status.waiting()).photographs).toBe(0);
  });
});

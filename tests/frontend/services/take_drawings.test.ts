import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Definition } from '../../../frontend/src/domain/place';
import { drawingsOf } from '../../../frontend/src/services/take_drawings';
import { sha256OfBytes } from '../../../frontend/src/storage/files';
import { DEFINITION, LEAD, Workshop } from './bench';

let workshop: Workshop;

beforeEach(async () => {
  workshop = await new Workshop().open();
});
afterEach(() => workshop.close());

function pictureOf(structure: string, sha256: string) {
  const picture = { sha256, media_type: 'image/png', width_px: 10, height_px: 10 };
  return { name: sha256.slice(0, 4), title: 'Sheet', structure, picture, second: 'strake' };
}

/** A tablet of a book with a second airframe whose only view is a picture on the server. */
async function drawnTablet() {
  const { server } = workshop;
  const bytes = new TextEncoder().encode('a drawing').buffer as ArrayBuffer;
  const sha256 = await sha256OfBytes(bytes);
  server.files.set(sha256, bytes);
  const views = [pictureOf('Hull', sha256)];
  const file = new TextEncoder().encode(JSON.stringify({ ...DEFINITION, views }));
  const pin = await sha256OfBytes(file.buffer as ArrayBuffer);
  server.files.set(pin, file.buffer as ArrayBuffer);
  const definition = { name: 'Made', issue: '1', sha256: pin };
  const relies = [server.people[0]?.role_entry as string];
  const set = { type: 'Made', definition };
  await server.write(LEAD, [{ record: 'airframe-2', kind: 'airframe', set, relies }]);
  return { shop: await workshop.tablet(), server, bytes, sha256 };
}

const drawn = { name: 'drawn', title: 'Drawn', structure: 'Hull', lines: [] };

describe('drawings that are taken to the airframe', () => {
  it('are all of the airframe, each picture once', () => {
    const definition = {
      views: [
        drawn,
        pictureOf('Hull', 'aa'),
        { ...pictureOf('Hull', 'aa'), name: 'other' },
        pictureOf('Fin', 'bb'),
      ],
    } as unknown as Definition;
    expect(drawingsOf(definition)).toEqual(['aa', 'bb']);
    const odd = { views: [null, pictureOf('Fin', 'cc'), { picture: { sha256: 5 } }, {}] };
    expect(drawingsOf(odd as unknown as Definition)).toEqual(['cc']);
  });

  it('are counted as not there where the server has them not', async () => {
    const { shop, server, bytes, sha256 } = await drawnTablet();
    server.files.delete(sha256);
    expect(await shop.take.take(['111'], 'small')).toMatchObject({ problem: null, not_there: 1 });
    expect(await shop.files.bytes(sha256)).toBeNull();
    server.files.set(sha256, bytes);
    expect(await shop.take.take(['111'], 'small')).toMatchObject({ problem: null, not_there: 0 });
    expect(await shop.files.bytes(sha256)).not.toBeNull();
  });

  it('come whole with the book with no zone chosen, are there with no network, and come once', async () => {
    const { shop, server, bytes, sha256 } = await drawnTablet();
    expect(await shop.files.bytes(sha256)).toBeNull();
    expect(await shop.take.need([], 'small')).toMatchObject({ drawings_lacking: 1 });
    expect((await shop.take.take([], 'small')).problem).toBeNull();
    expect(await shop.take.need([], 'small')).toMatchObject({ drawings_lacking: 0 });
    expect(new Uint8Array((await shop.files.bytes(sha256)) as ArrayBuffer)).toEqual(
      new Uint8Array(bytes),
    );
    const asked = () => server.asked.filter((one) => one.endsWith(sha256)).length;
    const before = asked();
    await shop.take.take(['111'], 'small');
    expect(asked()).toBe(before);
    server.isAway = true;
    const url = await shop.files.photographUrl(sha256);
    expect(url).toMatch(/^blob:/);
    shop.files.release(url);
  });
});

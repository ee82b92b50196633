import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { OpenShop } from '../../../frontend/src/services/open';
import type { Fetch } from '../../../frontend/src/services/server';
import { sizeWords } from '../../../frontend/src/services/take_work';
import { sha256OfBytes } from '../../../frontend/src/storage/files';
import { INSPECTOR, LEAD, PLACE, seeded, Workshop } from './bench';

let workshop: Workshop;

beforeEach(async () => {
  workshop = await new Workshop().open();
});
afterEach(() => workshop.close());

function bytesOf(seed: number, size_bytes = 5000): ArrayBuffer {
  const random = seeded(seed);
  return Uint8Array.from({ length: size_bytes }, () => random() * 256).buffer;
}

let made = 0;

/** A record of another tablet with photographs that lie on the server, in the zone of its hand. */
async function recorded(hand: 'P' | 'S', photographs: number): Promise<string[]> {
  const { server } = workshop;
  made += 1;
  const relies = [server.people[1]?.role_entry as string];
  const defect = `d${made}`;
  const number = `B/${String(made).padStart(4, '0')}`;
  const set = { number, airframe: 'airframe-1', place: { ...PLACE, hand } };
  const drafts = [{ record: defect, kind: 'defect', set, relies }];
  const names: string[] = [];
  for (let n = 0; n < photographs; n += 1) {
    const bytes = bytesOf(1000 * made + n);
    const sha256 = await sha256OfBytes(bytes);
    server.files.set(sha256, bytes);
    names.push(sha256);
    const of = { defect, sha256, size_bytes: bytes.byteLength, media_type: 'image/jpeg' };
    drafts.push({ record: `${defect}-${n}`, kind: 'photograph', set: of as never, relies });
  }
  await server.write(INSPECTOR, drafts);
  return names;
}

const copies = () => workshop.server.asked.filter((one) => one.startsWith('GET /api/photographs/'));

async function isHere(shop: OpenShop, sha256: string, size?: 320 | 1000): Promise<boolean> {
  workshop.server.isAway = true;
  const url = await shop.files.photographUrl(sha256, size).catch(() => null);
  workshop.server.isAway = false;
  if (url) shop.files.release(url);
  return url !== null;
}

describe('taking the book to the airframe', () => {
  it('brings the whole log, page after page, and the photographs of the zones chosen', async () => {
    const shop = await workshop.tablet();
    const [here] = await recorded('P', 1);
    const [there] = await recorded('S', 1);
    expect(await shop.book.numbered('B0001')).toEqual([]);
    const state = await shop.take.take(['111'], 'small');
    expect(state).toMatchObject({ running: false, problem: null, not_there: 0, done: 2, of: 2 });
    expect(state.taken).toMatchObject({ zones: ['111'], copies: 'small' });
    expect((await shop.book.defects()).map((row) => row.zone).sort()).toEqual(['111', '112']);
    expect(await isHere(shop, here as string, 320)).toBe(true);
    expect(await isHere(shop, here as string, 1000)).toBe(true);
    expect(await isHere(shop, there as string, 320)).toBe(false);
    expect(await shop.take.need(['111'], 'small')).toMatchObject({
      photographs: 1,
      here: 1,
      bytes: 0,
    });
    expect(await shop.take.need(['111', '112'], 'small')).toMatchObject({
      photographs: 2,
      here: 1,
    });
    expect(await shop.take.byZone('small')).toEqual({
      111: { photographs: 1, here: 1, bytes: 0 },
      112: { photographs: 1, here: 0, bytes: 230_000 },
    });
  });

  it('works again and again: only what lacks is fetched', async () => {
    const shop = await workshop.tablet();
    await recorded('P', 2);
    await shop.take.take(['111'], 'small');
    const before = copies().length;
    await shop.take.take(['111'], 'small');
    expect(copies().length).toBe(before);
    await recorded('P', 1);
    await shop.take.take(['111'], 'small');
    expect(copies().length).toBe(before + 2);
    await shop.take.take(['111'], 'all');
    expect(copies().length).toBe(before + 2 + 3);
    expect((await shop.take.need(['111'], 'all')).here).toBe(3);
  });

  it('goes on from where the server went away, and says how far it came', async () => {
    const names = await recorded('P', 6);
    let left = Number.POSITIVE_INFINITY;
    const shop = await workshop.tablet(async (address, init) => {
      const isCopy = /photographs\/[0-9a-f]{64}\?/.test(address);
      if (isCopy && left-- <= 0) throw new TypeError('connection reset');
      return workshop.server.fetch(address, init);
    });
    left = 5;
    const stopped = await shop.take.take(['111'], 'small');
    expect(stopped.problem).toContain('out of reach after 5 of 12 copies');
    expect(stopped.taken).toBeNull();
    left = 100;
    const done = await shop.take.take(['111'], 'small');
    expect(done).toMatchObject({ problem: null, done: 7, of: 7 });
    for (const name of names) expect(await isHere(shop, name, 1000)).toBe(true);
  });

  it('says that nothing new came while the server is away, and keeps what was taken', async () => {
    const shop = await workshop.tablet();
    await recorded('P', 1);
    const { taken } = await shop.take.take(['111'], 'small');
    workshop.server.isAway = true;
    const away = await shop.take.take(['111'], 'small');
    expect(away.problem).toContain('out of reach');
    expect(away.taken).toEqual(taken);
    const { whole_ms } = shop.exchange.state;
    expect(whole_ms).not.toBeNull();
    await shop.close();
    const again = await workshop.shop();
    expect(again.take.state.taken).toEqual(taken);
    expect(again.exchange.state.whole_ms).toBe(whole_ms);
  });

  it('counts photographs that the server has not got yet, and brings the others', async () => {
    const shop = await workshop.tablet();
    const [lost, there] = await recorded('P', 2);
    workshop.server.files.delete(lost as string);
    const state = await shop.take.take(['111'], 'small');
    expect(state).toMatchObject({ problem: null, not_there: 1 });
    expect(await isHere(shop, there as string, 320)).toBe(true);
    expect(await shop.take.need(['111'], 'small')).toMatchObject({ photographs: 2, here: 1 });
  });

  it('looks for room before anything is fetched', async () => {
    const shop = await workshop.tablet();
    await recorded('P', 3);
    const line = await shop.status.line();
    shop.status.line = async () => ({ ...line, room_bytes: 12_000 });
    const state = await shop.take.take(['111'], 'all');
    expect(state.problem).toMatch(/^This needs \d+ kB, and there is room for 12 kB\. Choose fewer/);
    expect(copies()).toHaveLength(1); // the definition
    shop.status.line = async () => ({ ...line, room_bytes: 10_000_000 });
    expect((await shop.take.take(['111'], 'all')).problem).toBeNull();
  });

  it('asks the browser to keep the store', async () => {
    const shop = await workshop.tablet();
    await shop.take.take([], 'small');
    expect((await shop.status.line()).kept).toBe(false);
  });

  it('leaves out photographs that are withheld', async () => {
    const shop = await workshop.tablet();
    await recorded('P', 1);
    const relies = [workshop.server.people[0]?.role_entry as string];
    const set = { withheld: true };
    await workshop.server.write(LEAD, [{ record: `d${made}-0`, kind: 'photograph', set, relies }]);
    await shop.take.take(['111'], 'small');
    expect(await shop.take.need(['111'], 'small')).toMatchObject({
      photographs: 0,
      here: 0,
      bytes: 0,
    });
  });

  it('refuses bytes of a photograph that are not those asked for', async () => {
    const [name] = await recorded('P', 1);
    const wrong: Fetch = async (address, init) =>
      address.endsWith(name as string)
        ? new Response(bytesOf(9))
        : workshop.server.fetch(address, init);
    const shop = await workshop.tablet(wrong);
    expect((await shop.take.take(['111'], 'all')).problem).toContain('does not read back');
    expect(await shop.files.bytes(name as string)).toBeNull();
  });

  it('stops when asked to, and goes on from there', async () => {
    await recorded('P', 8);
    const shop = await workshop.tablet();
    const taking = shop.take.take(['111'], 'small');
    const stop = shop.subscribe(() => shop.take.state.done === 4 && shop.take.stop());
    const stopped = await taking;
    stop();
    expect(stopped.problem).toContain('Stopped');
    expect(stopped.done).toBeLessThan(16);
    const { done } = await shop.take.take(['111'], 'small');
    expect(done).toBe(16 - stopped.done);
  });

  it('is done by one page of a tablet at a time', async () => {
    await recorded('P', 4);
    const first = await workshop.tablet();
    const second = await workshop.shop();
    const before = copies().length;
    const [one, two] = await Promise.all([
      first.take.take(['111'], 'small'),
      second.take.take(['111'], 'small'),
    ]);
    expect(
      [one.problem, two.problem].filter((words) => words?.includes('Another page')),
    ).toHaveLength(1);
    expect(copies().length).toBe(before + 8);
  });
});

describe('sizeWords', () => {
  it.each([
    [0, '0 kB'],
    [1, '1 kB'],
    [212_400_000, '212 MB'],
    [1_940_000_000, '1.9 GB'],
  ])('writes %d bytes as %s', (bytes, words) => expect(sizeWords(bytes)).toBe(words));
});

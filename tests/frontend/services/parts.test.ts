import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { OpenShop } from '../../../frontend/src/services/open';
import { PART_BYTES, sendInParts } from '../../../frontend/src/services/parts';
import { type Fetch, Server } from '../../../frontend/src/services/server';
import { sha256OfBytes } from '../../../frontend/src/storage/files';
import { seeded, Workshop } from './bench';

let workshop: Workshop;

beforeEach(async () => {
  workshop = await new Workshop().open();
});
afterEach(() => workshop.close());

/** Bytes that look random and come again with the same seed. */
function photograph(size_bytes: number, seed: number): ArrayBuffer {
  const random = seeded(seed);
  const words = Uint32Array.from({ length: Math.ceil(size_bytes / 4) }, () => random() * 2 ** 32);
  return words.buffer.slice(0, size_bytes);
}

const LARGE = photograph(2_500_000, 1);
const isPart = (asked: string) => /^PUT .*\/parts\//.test(asked);
const parts = () => workshop.server.asked.filter(isPart).map((one) => Number(one.at(-1)));

/** A way to the server that breaks where a test says, and counts the bytes that went over it. */
class Line {
  sent_bytes = 0;
  /** What becomes of the next part: goes through, breaks at a share of it, or loses its answer. */
  next: () => number | 'answer lost' | null = () => null;
  readonly fetch: Fetch = async (address, init) => {
    if (!isPart(`${init.method} ${address}`)) return workshop.server.fetch(address, init);
    const { byteLength } = init.body as ArrayBuffer;
    const fate = this.next();
    this.sent_bytes += typeof fate === 'number' ? fate * byteLength : byteLength;
    if (typeof fate === 'number') throw new TypeError('connection reset');
    const answer = await workshop.server.fetch(address, init);
    if (fate === 'answer lost') throw new TypeError('connection reset');
    return answer;
  };
}

async function waits(shop: OpenShop): Promise<number> {
  return (await shop.status.waiting()).files;
}

describe('photographs in parts', () => {
  it('sends up to 1 MiB whole, and more in parts', async () => {
    const shop = await workshop.tablet();
    const small = await shop.files.keep(photograph(PART_BYTES, 2), 'image/jpeg');
    const large = await shop.files.keep(LARGE, 'image/jpeg');
    await shop.exchange.sendNow();
    expect(workshop.server.asked).toContain(`PUT /api/photographs/${small}`);
    expect(parts()).toEqual([0, 1, 2]);
    expect(workshop.server.asked.filter((one) => /^GET .*parts$/.test(one))).toEqual([]);
    expect(workshop.server.files.get(large)).toEqual(LARGE);
    expect(await waits(shop)).toBe(0);
  });

  it('goes on after the app was closed, without what arrived before', async () => {
    const line = new Line();
    const shop = await workshop.tablet(line.fetch);
    const sha256 = await shop.files.keep(LARGE, 'image/jpeg');
    line.next = () => (parts().length < 1 ? null : 0.5);
    expect((await shop.exchange.sendNow()).away).toBe(true);
    expect(parts()).toEqual([0]);
    expect(await waits(shop)).toBe(1);
    await shop.close();
    line.next = () => null;
    const again = await workshop.shop(line.fetch);
    await again.exchange.sendNow();
    expect(parts()).toEqual([0, 1, 2]);
    expect(workshop.server.files.get(sha256)).toEqual(LARGE);
    expect(await waits(again)).toBe(0);
  });

  it('asks what is missing after an error: a part whose answer was lost is not sent again', async () => {
    const line = new Line();
    const shop = await workshop.tablet(line.fetch);
    await shop.files.keep(LARGE, 'image/jpeg');
    let n = 0;
    line.next = () => (n++ < 2 ? 'answer lost' : null);
    await shop.exchange.sendNow();
    expect(parts()).toEqual([0, 1, 2]);
    expect(line.sent_bytes).toBe(2_500_000);
    expect(await waits(shop)).toBe(0);
  });

  it('sends nothing where another tablet made the photograph whole meanwhile', async () => {
    const sha256 = await sha256OfBytes(LARGE);
    workshop.server.files.set(sha256, LARGE);
    await sendInParts(new Server(workshop.server.fetch), sha256, LARGE);
    expect(parts()).toEqual([]);
  });

  it('begins anew where the parts there are of another size', async () => {
    const sha256 = await sha256OfBytes(LARGE);
    const here = new Map([[0, new Uint8Array(5)]]);
    workshop.server.parts.set(sha256, { size_bytes: 5, here });
    await sendInParts(new Server(workshop.server.fetch), sha256, LARGE);
    expect(workshop.server.files.get(sha256)).toEqual(LARGE);
  });

  it('sends a part again that was damaged on the way', async () => {
    const sha256 = await sha256OfBytes(LARGE);
    let n = 0;
    const damaging: Fetch = async (address, init) => {
      const isHit = isPart(`${init.method} ${address}`) && n++ === 1;
      const body = isHit ? new Uint8Array(PART_BYTES).buffer : (init.body ?? null);
      return workshop.server.fetch(address, { ...init, body });
    };
    await sendInParts(new Server(damaging), sha256, LARGE);
    expect(parts()).toEqual([0, 1, 1, 2]);
    expect(workshop.server.files.get(sha256)).toEqual(LARGE);
  });

  it('gives a part up that never gets through, and the rest goes on another time', async () => {
    const line = new Line();
    const shop = await workshop.tablet(line.fetch);
    await shop.files.keep(LARGE, 'image/jpeg');
    let tries = 0;
    line.next = () => (++tries > 0 ? 0 : null);
    expect((await shop.exchange.sendNow()).away).toBe(true);
    expect(tries).toBe(4);
    expect(await waits(shop)).toBe(1);
  });

  it('gives a file up whose bytes went bad here: its parts are taken, its whole never is', async () => {
    const sha256 = await sha256OfBytes(photograph(2_500_000, 9));
    const sending = sendInParts(new Server(workshop.server.fetch), sha256, LARGE);
    await expect(sending).rejects.toMatchObject({ code: 'wrong_sha256' });
    expect(parts().length).toBeLessThan(15);
    expect(workshop.server.files.has(sha256)).toBe(false);
  });

  it('lets one file that is refused hold up no other', async () => {
    const shop = await workshop.tablet(async (address, init) => {
      const isHit = /PUT .*\/parts\/1/.test(`${init.method} ${address}`);
      const told = { code: 'too_large', message: 'Too large.', hint: '' };
      if (isHit) return new Response(JSON.stringify(told), { status: 413 });
      return workshop.server.fetch(address, init);
    });
    await shop.files.keep(LARGE, 'image/jpeg');
    const small = await shop.files.keep(photograph(1000, 4), 'image/jpeg');
    const other = await shop.files.keep(photograph(1000, 5), 'image/jpeg');
    expect((await shop.exchange.sendNow()).problem).toContain('Too large.');
    expect([...workshop.server.files.keys()]).toEqual(expect.arrayContaining([small, other]));
    expect(await waits(shop)).toBe(1);
  });

  it('costs at most 1.3 times the bytes when 30 % of the parts break at a uniform point', async () => {
    const seed = 20251103;
    console.info(`seed ${seed}`);
    const random = seeded(seed);
    const line = new Line();
    const shop = await workshop.tablet(line.fetch);
    const kept: Record<string, ArrayBuffer> = {};
    for (let n = 0; n < 20; n += 1) {
      const bytes = photograph(2_500_000, 100 + n);
      kept[await shop.files.keep(bytes, 'image/jpeg')] = bytes;
    }
    line.next = () => (random() < 0.3 ? random() : null);
    for (let runs = 0; (await waits(shop)) > 0 && runs < 20; runs += 1) {
      await shop.exchange.sendNow();
    }
    for (const [sha256, bytes] of Object.entries(kept)) {
      expect(await sha256OfBytes(workshop.server.files.get(sha256) as ArrayBuffer)).toBe(sha256);
      expect(bytes.byteLength).toBe(2_500_000);
    }
    const share = line.sent_bytes / (20 * 2_500_000);
    console.info(`${share.toFixed(3)} times the bytes`);
    expect(share).toBeGreaterThan(1.05);
    expect(share).toBeLessThanOrEqual(1.3);
  }, 60_000);
});

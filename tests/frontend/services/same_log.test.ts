import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Workshop } from './bench';

let workshop: Workshop;

beforeEach(async () => {
  workshop = await new Workshop().open();
});
afterEach(() => workshop.close());

describe('logs compared', () => {
  it('offers all once where the logs stay different, then says so until they agree', async () => {
    const { server } = workshop;
    let isOther = true;
    const lying = async (address: string, init: RequestInit) => {
      const answer = await server.fetch(address, init);
      if (!isOther || !address.startsWith('/api/entries/digest')) return answer;
      return new Response(JSON.stringify({ ...(await answer.json()), sha256: 'f'.repeat(64) }));
    };
    const offers = () => server.asked.filter((one) => one === 'POST /api/entries').length;
    const shop = await workshop.tablet(lying as typeof fetch);
    expect(shop.exchange.state.problem).toBeNull();
    const offered = offers();
    expect(offered).toBeGreaterThan(0);
    const said = expect.stringContaining('changed nothing');
    for (const later_ms of [3_600_000, 60_000, 3_600_000]) {
      workshop.now_ms += later_ms;
      expect(await shop.exchange.sendNow()).toMatchObject({ problem: said });
      expect(offers()).toBe(offered);
    }
    isOther = false;
    workshop.now_ms += 3_600_000;
    expect(await shop.exchange.sendNow()).toMatchObject({ problem: null });
    const { whole_ms } = await shop.exchange.sendNow();
    expect(Math.abs((whole_ms ?? 0) - workshop.now_ms)).toBeLessThan(1000);
    expect(offers()).toBe(offered);
  });
});

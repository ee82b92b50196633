import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { INSPECTOR, PASSCODES, PLACE, Workshop } from './bench';

let workshop: Workshop;

beforeEach(async () => {
  workshop = await new Workshop().open();
});
afterEach(() => workshop.close());

const tellings = () => workshop.server.asked.filter((one) => one.endsWith('/told')).length;

describe('what a tablet tells of itself', () => {
  it('goes out after each exchange that changed something: numbers, what waits, clock, app', async () => {
    workshop.server.ahead_ms = 5000;
    const shop = await workshop.tablet();
    const session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
    expect(workshop.server.told).toMatchObject({
      ...{ version: 'development', epoch: 'epoch-1', entries: 0, files: 0, refused: 0 },
      ...{ last_number: null, oldest_ms: null, offset_ms: 5000 },
    });
    expect(shop.exchange.state.clock_off_ms).toBe(5000);
    await shop.capture.shutter(session, PLACE);
    await shop.exchange.sendNow();
    expect(workshop.server.told).toMatchObject({ entries: 0, last_number: 'A/0001' });
  });

  it('is not told again while nothing changed, and once more after ten minutes', async () => {
    const shop = await workshop.tablet();
    const before = tellings();
    await shop.exchange.sendNow();
    await shop.exchange.sendNow();
    expect(tellings()).toBe(before);
    workshop.now_ms += 600_001;
    await shop.exchange.sendNow();
    expect(tellings()).toBe(before + 1);
  });

  it('says what still waits when a file was refused, and what of the entries was', async () => {
    const shop = await workshop.tablet(async (address, init) => {
      const told = { code: 'too_large', message: 'Too large.', hint: '' };
      if (init.method === 'PUT') return new Response(JSON.stringify(told), { status: 413 });
      return workshop.server.fetch(address, init);
    });
    const session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
    const [entry] = await shop.book.writeAct(session, [
      { record: 'd1', kind: 'defect', set: { note: 'x' } },
    ]);
    workshop.server.refuse.add(entry?.id as string);
    await shop.files.keep(new Uint8Array(9).buffer, 'image/jpeg');
    workshop.now_ms += 4000;
    await shop.exchange.sendNow();
    workshop.now_ms += 4000;
    await shop.exchange.sendNow();
    expect(workshop.server.told).toMatchObject({ files: 1, refused: 1 });
    expect(Number(workshop.server.told?.oldest_ms)).toBeGreaterThanOrEqual(4000);
  });

  it('is worth no error: a server that does not take it has all the rest', async () => {
    const shop = await workshop.tablet(async (address, init) =>
      address.endsWith('/told')
        ? new Response('no', { status: 500 })
        : workshop.server.fetch(address, init),
    );
    expect(await shop.exchange.sendNow()).toMatchObject({ away: false, problem: null });
  });
});

describe('a server that was put back from an older copy', () => {
  it('is told of to the people until all that was held is there again', async () => {
    const shop = await workshop.tablet();
    expect(shop.exchange.state.offered_ms).toBeNull();
    const session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
    await shop.capture.shutter(session, PLACE);
    await shop.exchange.sendNow();
    workshop.server.restore(workshop.server.log.length - 1);
    workshop.server.epoch = 'epoch-2';
    const seen: boolean[] = [];
    const stop = shop.subscribe(() => seen.push(shop.exchange.state.offered_ms !== null));
    await shop.exchange.sendNow();
    stop();
    expect(seen).toContain(true);
    expect(shop.exchange.state.offered_ms).toBeNull();
    expect(workshop.server.told).toMatchObject({ epoch: 'epoch-2', last_number: 'A/0001' });
  });

  it('is still told of after a restart of the app, while something waits', async () => {
    const shop = await workshop.tablet();
    workshop.server.epoch = 'epoch-2';
    let n = 0;
    workshop.server.fault = () => (n++ > 0 ? 'lost' : null);
    await shop.exchange.sendNow();
    expect(shop.exchange.state.offered_ms).not.toBeNull();
    await shop.close();
    const again = await workshop.shop();
    expect(again.exchange.state.offered_ms).not.toBeNull();
    workshop.server.fault = () => null;
    await again.exchange.sendNow();
    expect(again.exchange.state.offered_ms).toBeNull();
  });
});

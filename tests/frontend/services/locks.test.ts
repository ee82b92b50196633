import 'fake-indexeddb/auto';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { INSPECTOR, PASSCODES, PLACE, Workshop } from './bench';

let workshop: Workshop;

beforeEach(async () => {
  workshop = await new Workshop().open();
});
afterEach(() => workshop.close());

it('lets one of two pages of a tablet send, and what waits is sent once', async () => {
  const first = await workshop.tablet();
  const second = await workshop.shop();
  const session = await first.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
  await first.capture.shutter(session, PLACE);
  await first.files.keep(new Uint8Array(2_500_000).buffer, 'image/jpeg');
  const before = workshop.server.asked.length;
  await Promise.all([first.exchange.sendNow(), second.exchange.sendNow()]);
  const asked = workshop.server.asked.slice(before);
  expect(asked.filter((one) => one === 'POST /api/entries')).toHaveLength(1);
  expect(asked.filter((one) => one.startsWith('PUT'))).toHaveLength(3);
  expect((await second.status.waiting()).entries).toBe(0);
});

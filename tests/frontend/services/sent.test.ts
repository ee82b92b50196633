// How much a browser sent since something last waited on it.

import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { SentTally } from '../../../frontend/src/services/sent';
import type { WaitingCounts } from '../../../frontend/src/storage/waiting';
import PICTURES from '../imaging/pictures.json' with { type: 'json' };
import { INSPECTOR, PASSCODES, PLACE, Workshop } from './bench';

const waits = (records: string[], photographs: string[] = []): WaitingCounts => ({
  records: new Set(records),
  photographs: new Set(photographs),
  bays: new Set(),
  entries: records.length,
  files: photographs.length,
  oldest_wall_ms: null,
});

const picture = () => new Uint8Array(Buffer.from(PICTURES['plain-wide'], 'base64')).buffer;

describe('the tally of what was sent', () => {
  it('adds up over runs that were broken off, and counts nothing twice', () => {
    const tally = new SentTally();
    tally.begin(waits(['a', 'b', 'c'], ['p', 'q']));
    expect(tally.end(waits(['c'], ['q']))).toEqual({
      records: 2,
      bays: 0,
      photographs: 1,
      all: false,
    });
    tally.begin(waits(['c', 'd'], ['q']));
    expect(tally.end(waits([]))).toEqual({ records: 4, bays: 0, photographs: 2, all: true });
  });

  it('keeps its sum while nothing waits, and begins anew with what waits then', () => {
    const tally = new SentTally();
    tally.begin(waits(['a', 'b']));
    tally.end(waits([]));
    tally.begin(waits([]));
    expect(tally.end(waits([]))).toMatchObject({ records: 2 });
    tally.begin(waits(['c']));
    expect(tally.end(waits([]))).toMatchObject({ records: 1 });
  });

  it('says nothing where nothing went', () => {
    const tally = new SentTally();
    tally.begin(waits(['a']));
    expect(tally.end(waits(['a']))).toBe(null);
  });
});

describe('a shop', () => {
  let workshop: Workshop;
  beforeEach(async () => {
    workshop = await new Workshop().open();
  });
  afterEach(() => workshop.close());

  it('says after a send how many records and photographs went', async () => {
    const shop = await workshop.tablet();
    const session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
    const { record } = await shop.capture.shutter(session, PLACE);
    await shop.capture.addPhotograph(session, record, picture(), 'wide');
    const { sent } = await shop.exchange.sendNow();
    expect(sent).toEqual({ records: 1, bays: 0, photographs: 1, all: true });
  });
});

import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { OpenShop } from '../../../frontend/src/services/open';
import type { Session } from '../../../frontend/src/services/shop';
import PICTURES from '../imaging/pictures.json' with { type: 'json' };
import { FITTER, INSPECTOR, PASSCODES, PLACE, Workshop } from './bench';

const picture = () =>
  new Uint8Array(Buffer.from(PICTURES['rotated-exif-6'], 'base64')).buffer as ArrayBuffer;
const RING = {
  kind: 'ring' as const,
  points: [[31, 47] as [number, number], [59, 83] as [number, number]],
};

let workshop: Workshop;
let shop: OpenShop;
let session: Session;

beforeEach(async () => {
  workshop = await new Workshop().open();
  shop = await workshop.tablet();
  session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
  workshop.server.isAway = true;
});
afterEach(() => workshop.close());

/** The same browser, started again: nothing is left of the memory of the first. */
async function restart(): Promise<void> {
  await shop.close();
  shop = await workshop.shop();
  session = shop.session as Session;
}

const steps = async (record?: string) => (await shop.capture.undoable(session, record)).steps;

describe('undo after a restart', () => {
  it('goes on where the app was closed, and knows what was taken back already', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    await shop.capture.setField(session, record, 'kind', 'pitting');
    await shop.capture.setField(session, record, 'kind', 'crack');
    await shop.capture.setField(session, record, 'part', 'keel');
    await shop.capture.undo(session, record);
    await restart();
    expect(await steps(record)).toBe(2);
    await shop.capture.undo(session, record);
    expect((await shop.book.plain(record)).kind).toBe('pitting');
    await restart();
    await shop.capture.undo(session);
    expect((await shop.book.plain(record)).kind).toBeUndefined();
  });

  it('stops at a move of the start before, and says so', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    await shop.capture.setField(session, record, 'kind', 'pitting');
    await restart();
    await shop.capture.undo(session);
    const { steps, stopped } = await shop.capture.undoable(session);
    expect({ steps, stopped }).toEqual({
      steps: 0,
      stopped: 'restart',
    });
    await expect(shop.capture.undo(session)).rejects.toThrow('before the restart');
    expect((await shop.book.plain(record)).state).toMatchObject({ to: 'Draft' });
  });

  it('takes mark and photograph off again, each with its defect', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const added = await shop.capture.addPhotograph(session, record, picture(), 'wide');
    const mark = await shop.capture.addMark(session, added.record, RING);
    await shop.capture.moveMark(session, mark, {
      ...RING,
      points: [
        [1, 2],
        [3, 4],
      ],
    });
    await restart();
    expect(await steps(record)).toBe(3);
    await shop.capture.undo(session, record);
    expect(await shop.book.plain(mark)).toMatchObject({ shape: { points: RING.points } });
    await shop.capture.undo(session, record);
    expect(await shop.book.plain(mark)).toMatchObject({ struck: true });
    await restart();
    await shop.capture.undo(session, record);
    expect(await shop.book.related(record, 'photograph')).toEqual([]);
  });

  it('leaves what is older than a sign-in lasts', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    await shop.capture.setField(session, record, 'kind', 'pitting');
    workshop.now_ms += 12 * 3_600_000 + 1;
    expect(await steps()).toBe(0);
  });
});

describe('undo of a person', () => {
  it('takes back the last act wherever it was made', async () => {
    const one = await shop.capture.shutter(session, PLACE);
    const two = await shop.capture.shutter(session, { ...PLACE, member: 'F5' });
    await shop.capture.setField(session, one.record, 'kind', 'pitting');
    expect((await shop.capture.undoable(session)).next).toMatchObject({
      records: [one.record],
      fields: ['kind'],
      move: null,
    });
    await shop.capture.undo(session);
    expect((await shop.capture.undoable(session)).next).toMatchObject({
      records: [two.record],
      move: 'new',
    });
    expect(await steps()).toBe(2);
  });

  it('takes a bay that was looked at back', async () => {
    const cell = { structure: 'Hull', hand: 'P', bay: ['F6', 'F7'], strakes: ['K', 'C'] };
    const record = await shop.capture.lookedAt(session, { cell, looked_at: true, method: 'eye' });
    await shop.capture.undo(session);
    expect((await shop.book.plain(record)).looked_at).toBeUndefined();
  });

  it('leaves the work of another person alone, and stops where they went on', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    await shop.capture.setField(session, record, 'kind', 'pitting');
    const other = await shop.people.unlock(FITTER, PASSCODES[FITTER] as string);
    await shop.capture.setField(other, record, 'kind', 'crack');
    const { steps: left, stopped } = await shop.capture.undoable(session);
    expect({ left, stopped }).toEqual({ left: 0, stopped: 'another' });
    expect((await shop.capture.undoable(other)).steps).toBe(1);
  });
});

describe('undo of what was changed since on another tablet', () => {
  it('writes nothing over the other’s value, and leaves the step behind', async () => {
    workshop.server.isAway = false;
    const { record } = await shop.capture.shutter(session, PLACE);
    const [mine] = await shop.capture.setField(session, record, 'kind', 'pitting');
    await shop.exchange.sendNow();
    await workshop.server.write(FITTER, [
      { record, kind: 'defect', set: { kind: 'crack' }, seen: { kind: [mine?.id as string] } },
    ]);
    await shop.exchange.sendNow();
    await expect(shop.capture.undo(session, record)).rejects.toThrow('changed since by somebody');
    expect((await shop.book.plain(record)).kind).toBe('crack');
    expect((await shop.capture.undoable(session, record)).next).toMatchObject({ move: 'new' });
  });
});

describe('movePlaces', () => {
  it('moves several records in one act that one undo takes back', async () => {
    const records: string[] = [];
    for (const member of ['F5', 'F6']) {
      const { record } = await shop.capture.shutter(session, { ...PLACE, member });
      records.push(record);
    }
    const moved = records.map((record, at) => ({
      record,
      place: { ...PLACE, member: ['F5', 'F6'][at] as string, hand: 'S' as const },
    }));
    await shop.capture.movePlaces(session, moved, 'wrong hand entered');
    const hands = async () =>
      Promise.all(records.map(async (one) => (await shop.book.defect(one))?.hand));
    expect(await hands()).toEqual(['S', 'S']);
    await restart();
    await shop.capture.undo(session);
    expect(await hands()).toEqual(['P', 'P']);
  });
});

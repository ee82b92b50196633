import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { OpenShop } from '../../../frontend/src/services/open';
import type { DefectRow, Session } from '../../../frontend/src/services/shop';
import PICTURES from '../imaging/pictures.json' with { type: 'json' };
import { FITTER, INSPECTOR, PASSCODES, PLACE, Workshop } from './bench';

let workshop: Workshop;
let shop: OpenShop;
let session: Session;

beforeEach(async () => {
  workshop = await new Workshop().open();
  shop = await workshop.tablet();
  session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
});
afterEach(() => workshop.close());

const numbers = async (from: OpenShop) => (await from.book.defects()).map(({ number }) => number);

describe('defects', () => {
  it('has each row as it stands now, from this tab and from others', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    expect(await numbers(shop)).toEqual(['A/0001']);
    const tab = await workshop.shop();
    await tab.capture.shutter(tab.session as Session, PLACE);
    await tab.capture.setField(tab.session as Session, record, 'kind', 'crack');
    expect((await numbers(shop)).sort()).toEqual(['A/0001', 'A/0002']);
    expect((await shop.book.defects()).find((row) => row.record === record)?.kind).toBe('crack');
    const byNumber = (rows: DefectRow[]) =>
      Object.fromEntries(rows.map((row) => [row.number, row]));
    expect(byNumber(await shop.book.defects())).toEqual(byNumber(await tab.book.defects()));
  });

  it('finds a row by any spelling of its number', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    for (const number of ['A/0001', 'A0001', 'a0001']) {
      expect((await shop.book.numbered(number)).map((row) => row.record)).toEqual([record]);
    }
    expect(await shop.book.numbered('B/0001')).toEqual([]);
  });
});

describe('sentOn', () => {
  it('lists what this tablet wrote on a day once the server has it, and nothing that waits', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const [day, device] = [shop.moment(shop.now())[0], shop.device?.letter as string];
    expect(await shop.book.sentOn(day, device)).toEqual({});
    await shop.exchange.sendNow();
    expect(await shop.book.sentOn(day, device)).toMatchObject({ defect: [record] });
    expect(await shop.book.sentOn(day, 'B')).toEqual({});
    expect(await shop.book.sentOn('2020-01-01', device)).toEqual({});
    await shop.capture.setField(session, record, 'kind', 'crack');
    expect((await shop.book.sentOn(day, device)).defect).toBeUndefined();
  });
});

describe('begunBy', () => {
  it('says who began a record, whoever went on with it, after a restart too', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const other = await shop.people.unlock(FITTER, PASSCODES[FITTER] as string);
    await shop.capture.setField(other, record, 'kind', 'crack');
    const mine = await shop.capture.shutter(other, PLACE);
    const again = await workshop.shop();
    expect(await again.book.begunBy([record, mine.record])).toEqual({
      [record]: INSPECTOR,
      [mine.record]: FITTER,
    });
  });
});

describe('begunAt', () => {
  it('says when a record was begun by the clock of the workshop, not when it was changed', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const [begun] = [shop.moment(shop.now())];
    workshop.now_ms += 3_600_000;
    await shop.capture.setField(session, record, 'kind', 'crack');
    expect(await shop.book.begunAt([record, 'unknown'])).toEqual({ [record]: begun });
  });
});

describe('values', () => {
  it('takes one length typed in two ways for one value', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const draft = (value: string, unit: string) => ({
      record,
      kind: 'defect',
      set: { depth: { value, unit } },
      seen: {},
    });
    await shop.book.writeAct(session, [draft('1', 'in')]);
    await shop.book.writeAct(session, [{ ...draft('25.4', 'mm'), seen: { depth: [] } }]);
    const { depth } = await shop.book.values(record);
    expect(depth).toHaveLength(1);
    expect(depth?.[0]?.entries).toHaveLength(2);
    expect((await shop.book.defect(record))?.two_values).toEqual([]);
  });

  it('takes one length measured by two methods for one value', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    for (const method of ['depth gauge', 'ultrasonic']) {
      const depth = { value: '0.011', unit: 'in', method };
      await shop.book.writeAct(session, [
        { record, kind: 'defect', set: { depth }, seen: { depth: [] } },
      ]);
    }
    expect((await shop.book.values(record)).depth).toHaveLength(1);
    expect((await shop.book.defect(record))?.two_values).toEqual([]);
  });

  it('leaves a value out that was taken away', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    await shop.capture.setField(session, record, 'note', 'wet');
    await shop.capture.setField(session, record, 'note', '  ');
    expect((await shop.book.values(record)).note).toBeUndefined();
    expect((await shop.book.plain(record)).note).toBeUndefined();
  });
});

describe('history', () => {
  it('has the days of corrected time, and of the arrival where a stamp is too far ahead', async () => {
    const real_ms = workshop.now_ms;
    workshop.now_ms += 387 * 86_400_000; // this tablet's own clock, set wrong
    workshop.server.ahead_ms = -387 * 86_400_000;
    const early = await shop.capture.shutter(session, PLACE);
    const dates = async (record: string) =>
      (await shop.book.history(record)).map((one) => one.date);
    expect(await dates(early.record)).toEqual(['2026-11-25']);
    workshop.server.came_ms = real_ms;
    await shop.exchange.sendNow();
    expect(await dates(early.record)).toEqual(['2025-11-03']);
    const later = await shop.capture.shutter(session, PLACE);
    expect(await dates(later.record)).toEqual(['2025-11-03']);
    const [first] = await shop.book.history(later.record);
    await shop.exchange.sendNow();
    const sent = workshop.server.entries().find(({ id }) => id === first?.entry);
    expect(sent?.wall.slice(0, 10)).toBe('2026-11-25');
  });

  it('names records by what they are', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const bytes = new Uint8Array(Buffer.from(PICTURES['plain-wide'], 'base64')).buffer;
    const photograph = await shop.capture.addPhotograph(session, record, bytes, 'wide');
    const shape = { kind: 'dot', points: [[100, 230]] };
    const relies: string[] = [];
    await shop.book.writeAct(session, [
      { record: 'mark-1', kind: 'mark', set: { photograph: photograph.record, shape }, relies },
    ]);
    const said = (await shop.book.history(record)).map(({ sentence }) => sentence).join(' ');
    expect(said).toContain('for airframe 2603');
    expect(said).toContain('Mark made on photograph (wide) by');
    expect(said).not.toMatch(/[0-9a-z]{26}/);
  });
});

describe('unsent', () => {
  it('names what exists on this tablet only, until it is sent', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    expect(await shop.book.unsent()).toEqual(new Set([record]));
    await shop.exchange.sendNow();
    expect(await shop.book.unsent()).toEqual(new Set());
  });
});

describe('live', () => {
  it('tells a screen of what another tab wrote', async () => {
    const told: number[] = [];
    const stop = shop.live(
      () => shop.book.defects(),
      (rows) => told.push(rows.length),
    );
    const tab = await workshop.shop();
    await tab.capture.shutter(tab.session as Session, PLACE);
    await expect.poll(() => told.at(-1)).toBe(1);
    stop();
  });
});

import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Measurement, measured, type Scale } from '../../../frontend/src/domain/photo_measure';
import {
  keepMeasurement,
  measurementsOf,
  scaleOf,
  setScale,
  strandedOf,
  strikeScale,
  useAs,
} from '../../../frontend/src/screens/measuring/acts';
import type { OpenShop } from '../../../frontend/src/services/open';
import type { DefectRow, Session } from '../../../frontend/src/services/shop';
import PICTURES from '../imaging/pictures.json' with { type: 'json' };
import { INSPECTOR, PASSCODES, PLACE, Workshop } from '../services/bench';

const RULE: Scale = {
  method: 'two points',
  object: 'scale',
  points: [
    [3000, 10000],
    [12000, 10000],
  ],
  length: { value: '3.00', unit: 'in' },
  tap: '0.6',
};
const CRACK: Measurement = {
  shape: 'length',
  points: [
    [6000, 6000],
    [9000, 6000],
  ],
  tap: '0.6',
};
const SIZE = { width_px: 1600, height_px: 1200 };

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

/** A crack with a photograph, a scale on it, a measurement, and its length from that. */
async function used(why: 'raised' | 'draft') {
  const { record } = await shop.capture.shutter(session, PLACE);
  const bytes = new Uint8Array(Buffer.from(PICTURES['plain-wide'], 'base64')).buffer;
  const picture = await shop.capture.addPhotograph(session, record, bytes, 'close');
  await shop.capture.setFields(session, record, {
    ...{ kind: 'gouge', material: 'AL', cleaned: 'yes' },
    thickness: { value: '0.064', unit: 'in', method: 'drawing figure' },
    depth: { value: '0.004', unit: 'in', instrument: 'DG-1' },
  });
  await setScale(shop, session, picture.record, RULE);
  const scale = await scaleOf(shop, picture.record);
  if (!scale) throw new Error('The scale is not there.');
  const on = { photograph: picture.record, scale: scale.record };
  const measurement = await keepMeasurement(shop, session, on, CRACK);
  if (why === 'raised') await shop.moves.raise(session, record);
  const row = (await shop.book.defect(record)) as DefectRow;
  const told = measured(scale, CRACK, SIZE, 'in');
  await useAs(shop, session, row, 'length', { measurement, scale: scale.record, told });
  return { record, photograph: picture.record, scale, measurement };
}

const figureOf = async (record: string) => (await shop.book.plain(record)).length;

describe('measuring acts', () => {
  it('a figure says its ±, its method and the measurement, and relies on that and on the scale', async () => {
    const { record, measurement, scale } = await used('draft');
    expect(await figureOf(record)).toEqual({
      ...{ value: '1.0000', unit: 'in', method: 'photograph', measurement },
      uncertainty: { value: '0.0072', unit: 'in' },
    });
    const entries = await shop.book.values(record);
    const [id] = entries.length?.[0]?.entries ?? [];
    const lines = await shop.book.history(record);
    expect(lines.find(({ entry }) => entry === id)?.sentence).toContain(
      'Length 1.0000 ± 0.0072 in',
    );
    const on = [await shop.book.values(measurement), await shop.book.values(scale.record)];
    expect(on.every((values) => Object.keys(values).length > 3)).toBe(true);
  });

  it.each(['draft', 'raised'] as const)(
    'striking the scale withdraws what was measured with it and the figure of a %s record',
    async (why) => {
      const { record, photograph, scale } = await used(why);
      await strikeScale(shop, session, photograph, record, scale);
      expect(await scaleOf(shop, photograph)).toBeNull();
      expect(await measurementsOf(shop, photograph, scale)).toEqual([]);
      expect(await figureOf(record)).toMatchObject({ value: '1.0000', scale_withdrawn: true });
      const row = await shop.book.defect(record);
      expect(row?.copied).toContain('length');
      const lines = (await shop.book.history(record)).map(({ sentence }) => sentence);
      expect(lines.filter((one) => one.includes('withdrawn with its scale'))).toHaveLength(1);
    },
  );

  it('a figure measured otherwise since stays as it is', async () => {
    const { record, photograph, scale } = await used('draft');
    const by_rule = { value: '0.98', unit: 'in', method: 'steel rule' };
    await shop.capture.setField(session, record, 'length', by_rule);
    await strikeScale(shop, session, photograph, record, scale);
    expect(await figureOf(record)).toEqual(by_rule);
  });

  it('a figure taken from a scale that was struck meanwhile goes when it is struck again', async () => {
    const { record, photograph, scale, measurement } = await used('draft');
    expect(await strandedOf(shop, photograph, record)).toBeNull();
    await strikeScale(shop, session, photograph, record, scale);
    expect(await strandedOf(shop, photograph, record)).toBeNull();
    const row = (await shop.book.defect(record)) as DefectRow;
    const told = measured(scale, CRACK, SIZE, 'in');
    await useAs(shop, session, row, 'width', { measurement, scale: scale.record, told });
    const stranded = await strandedOf(shop, photograph, record);
    expect([stranded?.scale.record, stranded?.figures]).toEqual([scale.record, 1]);
    if (stranded) await strikeScale(shop, session, photograph, record, stranded.scale);
    const { width } = await shop.book.values(record);
    expect(width?.[0]?.value).toMatchObject({ scale_withdrawn: true });
    expect(await strandedOf(shop, photograph, record)).toBeNull();
  });

  it('what an instrument says is replaced only when asked twice', async () => {
    const { record, scale, measurement } = await used('draft');
    const by_gauge = { value: '0.500', unit: 'in', instrument: 'DG-1' };
    await shop.capture.setField(session, record, 'length', by_gauge);
    const row = (await shop.book.defect(record)) as DefectRow;
    const from = { measurement, scale: scale.record, told: measured(scale, CRACK, SIZE, 'in') };
    await expect(useAs(shop, session, row, 'length', from)).rejects.toMatchObject({
      code: 'gauge_stands',
      message: 'DG-1 says 0.500 in: USE AS again replaces it.',
    });
    expect(await figureOf(record)).toEqual(by_gauge);
    await useAs(shop, session, row, 'length', from, true);
    expect(await figureOf(record)).toMatchObject({ value: '1.0000', method: 'photograph' });
  });

  it('taken back, the scale, the measurement and the figure stand again', async () => {
    const { record, photograph, scale, measurement } = await used('draft');
    await strikeScale(shop, session, photograph, record, scale);
    await shop.capture.undo(session, record);
    expect((await scaleOf(shop, photograph))?.record).toBe(scale.record);
    const [kept] = await measurementsOf(shop, photograph, scale);
    expect(kept?.record).toBe(measurement);
    expect(await figureOf(record)).not.toHaveProperty('scale_withdrawn');
  });

  it('a scale placed last is taken back as a mark is: struck out', async () => {
    const { record } = await shop.capture.shutter(session, PLACE);
    const bytes = new Uint8Array(Buffer.from(PICTURES['plain-wide'], 'base64')).buffer;
    const picture = await shop.capture.addPhotograph(session, record, bytes, 'close');
    await setScale(shop, session, picture.record, RULE);
    await shop.capture.undo(session, record);
    expect(await scaleOf(shop, picture.record)).toBeNull();
  });
});

// @vitest-environment happy-dom
// A figure from a photograph on the sheet and on the measure screen, and once its scale is struck.

import 'fake-indexeddb/auto';
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type Measurement, measured, type Scale } from '../../../frontend/src/domain/photo_measure';
import { FigureCell } from '../../../frontend/src/furniture';
import { CrackRecord } from '../../../frontend/src/screens/defects/crack_record';
import { Figures } from '../../../frontend/src/screens/defects/figures';
import { besideWords } from '../../../frontend/src/screens/frame/photo_figures';
import { cellWords } from '../../../frontend/src/screens/measure/asked';
import { askedFor } from '../../../frontend/src/screens/measure/graded';
import { keepMeasurement, setScale, useAs } from '../../../frontend/src/screens/measuring/acts';
import type { OpenShop } from '../../../frontend/src/services/open';
import type { DefectRow, Session } from '../../../frontend/src/services/shop';
import { cleared, drawn } from '../furniture/dom';
import PICTURES from '../imaging/pictures.json' with { type: 'json' };
import { INSPECTOR, LEAD, PASSCODES, PLACE, Workshop } from '../services/bench';

const RULE = {
  ...{ method: 'two points', object: 'scale', tap: '0.6', length: { value: '3.00', unit: 'in' } },
  points: [
    [3000, 10000],
    [12000, 10000],
  ],
} as unknown as Scale;
/** One end is 100 px from the left of a picture of 1600: in its outer 15 %. */
const CRACK = {
  ...{ shape: 'length', tap: '0.6' },
  points: [
    [1000, 6000],
    [4000, 6000],
  ],
} as unknown as Measurement;
const BESIDE =
  'length measured from the photograph: sorting aid. Taken for granted: flat skin, and the scale ' +
  'lying on it. Not corrected for tilt: 10° shortens by 1.5 %, 30° by 13.4 %. ' +
  'In the outer 15 % of the picture, where lenses bend lines.';

let workshop: Workshop;
let shop: OpenShop;
let session: Session;
let record: string;
let photograph: string;
let scale: string;
let measurement: string;

beforeEach(async () => {
  workshop = await new Workshop().open();
  shop = await workshop.tablet();
  session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
  workshop.server.isAway = true;
  await take();
});
afterEach(async () => {
  cleared();
  await workshop.close();
});

/** A crack whose length is taken from its photograph. */
async function take(): Promise<void> {
  record = (await shop.capture.shutter(session, PLACE)).record;
  const bytes = new Uint8Array(Buffer.from(PICTURES['plain-wide'], 'base64')).buffer;
  photograph = (await shop.capture.addPhotograph(session, record, bytes, 'close')).record;
  await shop.capture.setFields(session, record, { kind: 'crack', material: 'AL' });
  await setScale(shop, session, photograph, RULE);
  scale = (await shop.book.related(photograph, 'scale'))[0]?.record as string;
  measurement = await keepMeasurement(shop, session, { photograph, scale }, CRACK);
  const told = measured(RULE, CRACK, { width_px: 1600, height_px: 1200 }, 'in');
  await useAs(shop, session, await row(), 'length', { measurement, scale, told });
}

const row = async () => (await shop.book.defect(record)) as DefectRow;
/** Lets what is read of the book come and be drawn. */
async function settled(): Promise<void> {
  for (let step = 0; step < 8; step++) await act(() => new Promise((done) => setTimeout(done, 25)));
}

async function sheet(): Promise<HTMLElement> {
  const values = await shop.book.plain(record);
  const box = drawn(<Figures shop={shop} row={await row()} values={values} section={false} />);
  await settled();
  return box;
}

async function crackRecord(): Promise<string> {
  const values = await shop.book.plain(record);
  const box = drawn(<CrackRecord shop={shop} row={await row()} values={values} />);
  await settled();
  return box.textContent ?? '';
}

async function asLead(work: (lead: Session) => Promise<unknown>): Promise<unknown> {
  return work(await shop.people.unlock(LEAD, PASSCODES[LEAD] as string));
}

function withheld(lead: Session) {
  const set = { withheld: true };
  return shop.book.writeAct(lead, [
    { record: photograph, kind: 'photograph', set, why: 'blurred' },
  ]);
}

const striking: [string, () => Promise<unknown>][] = [
  ['scale', () => shop.capture.setField(session, scale, 'struck', true)],
  ['measurement', () => shop.capture.setField(session, measurement, 'struck', true)],
  ['photograph', () => asLead((lead) => withheld(lead))],
];

describe('a figure from a photograph', () => {
  it('is told on the sheet with what stood beside it when it was taken', async () => {
    const box = await sheet();
    expect(box.querySelector('.figure-lines')?.textContent).toContain('± 0.0');
    expect(box.querySelector('.figure-lines .struck')).toBeNull();
    expect(box.textContent).toContain(BESIDE);
    expect(await crackRecord()).toContain(`: ${BESIDE}`);
  });

  it.each(striking)('is struck through in its cells once its %s fell', async (_, strike) => {
    await strike();
    const box = await sheet();
    expect(box.querySelector('.figure-lines .struck')?.textContent).toContain('± 0.0');
    expect(box.textContent).toContain('scale withdrawn');
    expect(box.textContent).not.toContain('measured from the photograph');
    const { length } = await shop.book.plain(record);
    const asked = askedFor({ kind: 'crack', material: 'AL' });
    const one = asked.find(({ field }) => field === 'length') as (typeof asked)[number];
    const cell = drawn(<FigureCell caption="Length" {...cellWords(one, length, () => '')} />);
    expect(cell.querySelector('.figure-value.struck')?.textContent).toContain('± 0.0');
    expect(cell.textContent).toContain('scale withdrawn');
  });

  it.each(striking)('is no observation of a crack once its %s fell', async (_, strike) => {
    expect(await crackRecord()).toContain('1 observation');
    await strike();
    expect(await crackRecord()).toContain('No length was measured yet.');
  });

  it('stands in the book as it was written: it is only shown as withdrawn', async () => {
    const before = await shop.book.values(record);
    await shop.capture.setField(session, scale, 'struck', true);
    expect(await shop.book.values(record)).toEqual(before);
    expect((await shop.book.plain(record)).length).toMatchObject({ scale_withdrawn: true });
    expect((await shop.book.plain(record)).kind).toBe('crack');
  });
});

describe('what is told of figures', () => {
  const figure = (measurement: string) => ({ value: '1', unit: 'in', measurement });

  it('is one sentence for those that share their warnings, and none of a typed one', () => {
    const beside = new Map([
      ['m1', { fell: false, warnings: ['Tilted.'] }],
      ['m2', { fell: false, warnings: ['Tilted.'] }],
      ['m3', { fell: false, warnings: [] }],
      ['m4', { fell: true, warnings: ['Tilted.'] }],
    ]);
    const told = [
      { name: 'length', value: figure('m1') },
      { name: 'width', value: figure('m2') },
      { name: 'hole, larger', value: figure('m3') },
      { name: 'hole, smaller', value: figure('m4') },
      { name: 'depth', value: { value: '1', unit: 'in' } },
    ];
    expect(besideWords(told, beside)).toEqual([
      'length, width measured from the photograph: sorting aid. Tilted.',
      'hole, larger measured from the photograph: sorting aid.',
    ]);
  });
});

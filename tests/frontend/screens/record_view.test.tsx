// @vitest-environment happy-dom
import { act } from 'preact/test-utils';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { picturesOf } from '../../../frontend/src/screens/photograph/pictures.ts';
import { RecordView } from '../../../frontend/src/screens/same_view/record_view.tsx';
import type { DefectRow, Json, Shop } from '../../../frontend/src/services/shop.ts';
import { cleared, drawn, press } from '../furniture/dom.ts';

beforeEach(() => vi.stubGlobal('matchMedia', () => ({ matches: true })));
afterEach(() => {
  cleared();
  vi.unstubAllGlobals();
});

const FIT = {
  ...{ turn_deg: '1.20', scale_percent: '0.80', shift_px: ['0.0', '0.0'], residual_px: '0.3' },
  by: 'three rivets',
};
const ASKED = '/api/photographs/p2/register';

/** A shop with two photographs of one view, which notes what is written and asked. */
function shopOf(answer: Json, fit: Json = FIT) {
  const photograph = (record: string, day: string, more: { repeat_of?: string; fit?: Json }) => ({
    ...{ record, defect: 'd', sha256: record, role: 'close', width_px: 1600, height_px: 1200 },
    ...{ taken: { wall: `${day}T10:00:00`, offset: 'unknown' }, ...more },
  });
  const all = [
    photograph('p1', '2025-03-08', {}),
    photograph('p2', '2025-11-03', { repeat_of: 'p1', ...(fit ? { fit } : {}) }),
  ];
  const written: unknown[][] = [];
  const asked: unknown[][] = [];
  const shop = {
    session: { person: 'one', online: true },
    drafts: { read: async () => null, write: async () => {} },
    live: (query: () => Promise<unknown>, tell: (value: unknown) => void) => {
      void query().then(tell);
      return () => {};
    },
    book: {
      plain: async (record: string) => all.find((one) => one.record === record) ?? {},
      defect: async () => ({ number: 'A/0009' }),
      related: async (record: string) =>
        record === 'd' ? all : all.filter(({ repeat_of }) => repeat_of === record),
      begunAt: async () => ({}),
      written: async () => [],
    },
    files: { photographUrl: async (sha256: string) => `blob:${sha256}`, release: () => {} },
    capture: {
      setFields: async (...of: unknown[]) => void written.push(of.slice(1)),
    },
    api: {
      post: async (...of: unknown[]) => {
        asked.push(of);
        return answer;
      },
    },
  } as unknown as Shop;
  return { shop, written, asked };
}

async function settled(): Promise<void> {
  for (const _step of [1, 2, 3, 4]) await act(() => new Promise((done) => setTimeout(done, 0)));
}

async function opened(answer: Json = null, fit: Json = FIT) {
  const told = shopOf(answer, fit);
  const photographs = await picturesOf(told.shop, 'd');
  const row = { record: 'd', number: 'A/0009' } as DefectRow;
  const box = drawn(<RecordView shop={told.shop} go={() => {}} {...{ row, photographs }} />);
  await settled();
  return { box, ...told };
}

const OFFERED = {
  ...{ to_other: [1, 0, 3, 0, 1, 4, 0, 0, 1], turn_deg: 0, scale_percent: 0 },
  ...{ inliers: 812, cells: 9, offered: true, reason: '' },
};

describe('the same view in the defect book', () => {
  it('has its pictures in order of day, with the days between and how each lies', async () => {
    const { box } = await opened();
    const keys = [...box.querySelectorAll('.record-chain .key')].map((key) => key.textContent);
    expect(keys).toEqual([
      '2025-03-08 · close the first of its view',
      '2025-11-03 · close 240 days later\nturned 1.2° anticlockwise, 0.8 % smaller',
    ]);
    expect(box.querySelector('.fit-panel')?.textContent).toContain('Good enough to compare.');
  });

  it('lays the new picture by its fit, with no style that a policy would refuse', async () => {
    const { box } = await opened();
    const laid = box.querySelector<HTMLElement>('.compare-over > img');
    expect(laid?.style.transform).toMatch(/^matrix3d\(0\.2\d+,/);
    press(box, 'SLIDER');
    press(box, 'BESIDE');
    expect(box.querySelectorAll('.compare-beside img')).toHaveLength(2);
  });

  it('stores what the server offers only when it is accepted', async () => {
    const { box, written, asked } = await opened(OFFERED, null);
    press(box, 'ASK THE SERVER');
    await settled();
    expect(asked).toEqual([[ASKED, { with: 'p1', mirrored: false, with_mirrored: false }]]);
    expect(box.querySelector('.fit-panel')?.textContent).toContain('812 places agree');
    expect(written).toEqual([]);
    press(box, 'LEAVE IT');
    await settled();
    expect(box.querySelector('.fit-panel')?.textContent).not.toContain('places agree');
    press(box, 'ASK THE SERVER');
    await settled();
    press(box, 'ACCEPT THE FIT');
    await settled();
    expect(written).toEqual([
      ['p2', { repeat_of: 'p1', fit: expect.objectContaining({ by: 'registration' }) }],
    ]);
  });

  it('says why the server offers nothing', async () => {
    const reason = '12 places agree; 30 are needed.';
    const { box } = await opened({ ...OFFERED, to_other: null, offered: false, reason });
    press(box, 'ASK THE SERVER');
    await settled();
    expect(box.querySelector('.fit-panel')?.textContent).toContain(`no fit.${reason}`);
  });

  it('closes the chain with a reason', async () => {
    const { box, written } = await opened();
    press(box, 'LAST OF ITS VIEW');
    press(box, 'PLATE RENEWED');
    await settled();
    expect(written).toEqual([['p2', { chain_closed: true }, 'plate renewed']]);
  });
});

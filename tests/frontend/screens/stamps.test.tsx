// @vitest-environment happy-dom
// Stamps on the sheet of a record: which holds, which was overtaken, and what to do then.

import { act } from 'preact/test-utils';
import { afterEach, describe, expect, it } from 'vitest';
import { Stamps } from '../../../frontend/src/screens/defects/stamps';
import { OvertakenLine } from '../../../frontend/src/screens/frame/overtaken_line';
import { StageLines } from '../../../frontend/src/screens/stages/lines';
import type { DefectRow, Shop } from '../../../frontend/src/services/shop';
import type { DefectLine } from '../../../frontend/src/services/stages';
import { cleared, drawn } from '../furniture/dom';

afterEach(cleared);

const STAMP = {
  ...{ entry: 'e1', act: 'INSPECTED', number: '12', person: 'p2', date: '2025-06-21' },
  ...{ overtaken: null, holds: true },
};
const PASSED = { ...STAMP, overtaken: 'lengths', holds: false };
const rowOf = (more: object) =>
  ({
    ...{ record: 'd1', number: 'A/0001', state: 'Cleared', independent: false },
    ...{ stamps: [STAMP], stamps_hold: true, ...more },
  }) as unknown as DefectRow;
const AGAIN = 'Inspect and stamp again. Until then the record counts as Offered for inspection.';

function shopOf(overrules = false): Shop {
  return {
    live: (query: () => Promise<unknown>, tell: (value: unknown) => void) => {
      void query().then(tell);
      return () => {};
    },
    book: {
      related: async () => [{ record: 'T1', entry: 'e1', overrules }],
      records: async () => [{ record: 'p2', role: { role: 'inspector' } }],
    },
  } as unknown as Shop;
}

async function shown(row: DefectRow, shop = shopOf()): Promise<string> {
  const box = drawn(<Stamps shop={shop} row={row} />);
  await act(() => new Promise((done) => setTimeout(done, 0)));
  await act(() => new Promise((done) => setTimeout(done, 0)));
  return box.textContent ?? '';
}

describe('the line of a stage', () => {
  const line = (row: DefectRow) =>
    ({
      ...{ number: 10, kind: 'defect', row, clears: 'inspection', who: 'Inspector' },
      is_unnamed: false,
    }) as unknown as DefectLine;
  const words = (row: DefectRow) =>
    drawn(<StageLines lines={[line(row)]} go={() => {}} />).textContent ?? '';

  it('says beside the state which stamp was overtaken and why', () => {
    const passed = rowOf({ stamps: [PASSED], stamps_hold: false, state: 'Offered' });
    expect(words(passed)).toContain('stamp 12: made without scales and lengths');
    expect(words(rowOf({}))).not.toContain('stamp 12:');
    const again = rowOf({ stamps: [STAMP, PASSED] });
    expect(words(again)).not.toContain('stamp 12:');
  });
});

describe('the stamps of a record', () => {
  it('that hold are shown with who signed, and nothing more', async () => {
    const said = await shown(rowOf({}));
    expect(said).toContain('INSPECTED12inspector2025-06-21');
    expect(said).not.toContain('does not hold');
    expect(said).not.toContain('made without');
  });

  it('say which was overtaken, why, and what to do, in the state that counts then', async () => {
    const row = rowOf({ stamps: [PASSED], stamps_hold: false, state: 'Offered' });
    const said = await shown(row);
    expect(said).toContain('INSPECTED stamp 12 of 2025-06-21 does not hold: it was made without');
    expect(said).toContain(AGAIN);
    expect(said).toContain('signedmade without scales and lengths');
    expect(drawn(<OvertakenLine row={row} />).textContent).toContain(AGAIN);
  });

  it('tell an old stamp beside a new one that holds, and ask for nothing', async () => {
    const said = await shown(rowOf({ stamps: [{ ...STAMP, entry: 'e2' }, PASSED] }));
    expect(said).toContain('signedmade without scales and lengths');
    expect(said).not.toContain('stamp again');
    expect(drawn(<OvertakenLine row={rowOf({ stamps: [STAMP, PASSED] })} />).textContent).toBe('');
  });

  it('are an empty outline while none stands, and an overrule is called so', async () => {
    expect(await shown(rowOf({ stamps: [], stamps_hold: null }))).toContain('inspection stamp');
    expect(await shown(rowOf({}), shopOf(true))).toContain('OVERRULE');
  });
});

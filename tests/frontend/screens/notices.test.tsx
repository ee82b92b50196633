// @vitest-environment happy-dom
// What /waiting says of the ways in which a tablet and its server can part.

import { describe, expect, it } from 'vitest';
import { Notices } from '../../../frontend/src/screens/waiting/notices';
import type { DefectRow, ExchangeState, Shop } from '../../../frontend/src/services/shop';
import { drawn } from '../furniture/dom';

const shop = {
  device: { letter: 'A' },
  moment: () => ['2025-11-03', '10:14'],
} as unknown as Shop;
const state = (change: Partial<ExchangeState> = {}): ExchangeState => ({
  ...{ running: false, away: false, last_contact_ms: 1, problem: null, shut: null, refused: [] },
  ...{ offset_ms: 0, clock_off_ms: 0, whole_ms: null, offered_ms: null, sent: null },
  ...change,
});
const row = (number: string, number_shared: boolean, record = 'd1') =>
  ({ record, number, number_shared }) as unknown as DefectRow;

const words = (change: Partial<ExchangeState>, rows: DefectRow[] = []) =>
  drawn(<Notices shop={shop} state={state(change)} rows={rows} />).textContent ?? '';

describe('notices of a tablet', () => {
  it('are none where all went as usual', () => {
    expect(words({}, [row('A/0001', false)])).toBe('');
  });

  it('say that the server was put back, when that was noticed, and what to do', () => {
    const said = words({ offered_ms: 5 });
    expect(said).toContain('put back from an older copy');
    expect(said).toContain('2025-11-03 at 10:14');
    expect(said).toContain('until nothing waits');
  });

  it('name a number of this tablet that two records bear, once, and none of another tablet', () => {
    const said = words({}, [row('A/0017', true), row('A/0017', true, 'd2'), row('B/0003', true)]);
    expect(said.match(/A\/0017/g)).toHaveLength(1);
    expect(said).toContain('Tell the lead');
    expect(said).not.toContain('B/0003');
  });

  it('say of the clock what the server found, from two minutes on', () => {
    expect(words({ clock_off_ms: -119_000 })).toBe('');
    expect(words({ clock_off_ms: null, offset_ms: 9e9 })).toBe('');
    expect(words({ clock_off_ms: -3 * 3_600_000 })).toContain('3 h fast');
  });

  it('name what was refused by its number, else by its kind, with the reason', () => {
    const one = {
      id: 'e1',
      code: 'too_large',
      reason: 'Over 64 kB.',
      record: 'd1',
      kind: 'defect',
    };
    const other = { ...one, id: 'e2', record: 'x', kind: 'rivet_line' };
    const said = words({ refused: [one, other] }, [row('A/0017', false)]);
    expect(said).toContain('A/0017 Over 64 kB. (too_large)');
    expect(said).toContain('rivet line Over 64 kB.');
    expect(said).toContain('Enter by hand');
  });
});

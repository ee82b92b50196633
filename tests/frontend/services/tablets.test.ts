import { describe, expect, it } from 'vitest';
import type { DefectRow } from '../../../frontend/src/services/shop';
import {
  type DeviceListed,
  seenWords,
  tabletsShown,
  tabletWords,
} from '../../../frontend/src/services/tablets';

const row = (number: string, more: Partial<DefectRow> = {}) =>
  ({ record: number, number, also_numbers: [], state: 'Raised', ...more }) as unknown as DefectRow;
const device = (
  letter: string,
  last_seen: string | null,
  unsent: number | null = null,
): DeviceListed => ({
  device: `t${letter}`,
  letter,
  last_seen,
  unsent,
  shut: null,
});
const TABLETS = ['B', 'A', 'AB'].map((letter) => ({ record: `t${letter}`, letter }));
const TODAY = '2025-11-03';

describe('the tablets of a book', () => {
  it('are told by letter, with what the server saw of each', () => {
    const devices = [device('A', '2025-11-03T08:15:30.250+00:00', 0), device('B', '2025-10-31', 9)];
    const shown = tabletsShown(TABLETS, [], devices, TODAY);
    expect(shown.map((one) => [one.letter, one.is_in, one.days, one.unsent])).toEqual([
      ['A', true, 0, 0],
      ['B', false, 3, 9],
      ['AB', false, null, null],
    ]);
    expect(shown.map(seenWords)).toEqual([
      'in today',
      'not in since 2025-10-31, 3 days',
      'not in; never seen by this server',
    ]);
  });

  it('are not called in while the server was never asked', () => {
    const shown = tabletsShown(TABLETS, [], null, TODAY);
    expect(shown.some((one) => one.is_in)).toBe(false);
  });

  it('hold the numbers they gave, and name those that are not here', () => {
    const rows = [
      row('A/0007'),
      row('A/0004', { state: 'Draft' }),
      row('B/0001', { also_numbers: ['A/0005'] }),
      row('AB/0009'),
    ];
    const [a, b, ab] = tabletsShown(TABLETS, rows, null, TODAY);
    expect(a).toMatchObject({ first: 'A/0004', last: 'A/0007', gaps: ['A/0006'], drafts: 1 });
    expect(a?.records).toBe(3);
    expect(b).toMatchObject({ first: 'B/0001', last: 'B/0001', gaps: [], records: 1 });
    expect(ab).toMatchObject({ first: 'AB/0009', gaps: [] });
  });

  it('leave desks out, which have no letter', () => {
    expect(tabletsShown([{ record: 'desk', letter: null }], [], null, TODAY)).toEqual([]);
  });
});

describe('the title block', () => {
  const words = (...devices: DeviceListed[]) =>
    tabletWords(
      tabletsShown(
        devices.map((one) => ({ record: one.device, letter: one.letter })),
        [],
        devices,
        TODAY,
      ),
    );

  it('names the tablets that are not in, and of one alone since how many days', () => {
    expect(words(device('A', '2025-11-03'), device('B', '2025-11-02'))).toBe('B not in, 1 day');
    expect(words(device('A', '2025-11-01'), device('B', null))).toBe('A, B not in');
    expect(words(device('A', '2025-11-03'))).toBe('all in');
    expect(words()).toBe('none enrolled');
  });

  it('says of nobody that he is away where the server told nothing, as to a clerk', () => {
    const shown = tabletsShown([{ record: 'tB', letter: 'B' }], [], null, TODAY);
    expect(tabletWords(shown)).toBe('1 enrolled');
    expect(shown.map(seenWords)).toEqual(['not told here']);
  });

  it('does not wait for a tablet that is let in no more', () => {
    const lost = { ...device('B', '2025-09-06'), shut: 'Tablet B was marked lost.' };
    expect(words(device('A', '2025-11-03'), lost)).toBe('all in');
    const [shown] = tabletsShown([{ record: 'tB', letter: 'B' }], [], [lost], TODAY);
    expect(shown && seenWords(shown)).toBe('Tablet B was marked lost.');
  });
});

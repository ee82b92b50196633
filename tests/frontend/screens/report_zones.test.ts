// The zones that reports are made for, and what each will hold.
import { describe, expect, it } from 'vitest';
import { cellWords, zoneRows } from '../../../frontend/src/screens/reports/zones';
import type { DefectRow, Definition } from '../../../frontend/src/services/shop';

const DEFINITION = {
  structures: [],
  zones: [
    { zone: '111', title: 'Bow, port' },
    { zone: '112', title: 'Bow, starboard' },
  ],
} as unknown as Definition;

const row = (zones: string[] | null, state = 'Raised') =>
  ({ zones, state, photographs: 2 }) as unknown as DefectRow;

describe('the zones of the reports', () => {
  it('has a line for each zone that is described, also for one with nothing', () => {
    const made = zoneRows(DEFINITION, [row(['111']), row(['111'], 'Cleared')], []);
    expect(made.map(({ zone, records, open }) => [zone, records, open])).toEqual([
      ['111', 2, 1],
      ['112', 0, 0],
    ]);
  });

  it('ends with what lies in no zone, so that no record is left off paper', () => {
    const made = zoneRows(DEFINITION, [row(['112']), row([]), row(null)], []);
    expect(made.map(({ zone, records }) => [zone, records])).toEqual([
      ['111', 0],
      ['112', 1],
      ['none', 2],
    ]);
    expect(cellWords(made[2] as (typeof made)[number])).toBe('no cells');
  });
});

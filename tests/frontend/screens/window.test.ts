import { describe, expect, it } from 'vitest';
import type { Place } from '../../../frontend/src/domain/place';
import type { Bay } from '../../../frontend/src/screens/airframe/bay';
import { bayOf, bayWords, cellValue } from '../../../frontend/src/screens/airframe/bay';
import { bayLooks, cellName, looksOf } from '../../../frontend/src/screens/airframe/cells';
import {
  rowAt,
  rowPlace,
  rowsAround,
  rowY,
  type Structure,
  spotOf,
} from '../../../frontend/src/screens/airframe/window';

const HULL = {
  name: 'Hull',
  axis: 'Sta',
  unit: 'in',
  hands: ['P', 'S', 'C'],
  members: ['F1', 'F2', 'F3', 'F4'].map((name, at) => ({
    name,
    kind: 'frame',
    station: String(8 + 13 * at),
  })),
  strakes: ['K', 'B1', 'B2', 'B3', 'C', 'S1', 'S2'],
  faces: ['inner', 'outer'],
} as unknown as Structure;

const place = (hand: 'P' | 'S', strakes: [string, string]): Place => ({
  structure: 'Hull',
  hand,
  member: 'F2',
  offset: { value: '2.5', unit: 'in' },
  strakes,
  precision: 'exact',
});

describe('rows of the shell expansion', () => {
  it('count port up from the keel and starboard down', () => {
    expect(spotOf(HULL, place('P', ['B1', 'B2']), 23.5)).toEqual({ station: 23.5, from: 1, to: 2 });
    expect(spotOf(HULL, place('S', ['B1', 'B2']), 23.5)).toEqual({
      station: 23.5,
      from: -2,
      to: -1,
    });
  });

  it('lead back from a touched row to the hand and strakes, on both hands', () => {
    expect(rowPlace(HULL, 2)).toEqual({ hand: 'P', strakes: ['B2', 'B3'] });
    expect(rowPlace(HULL, -3)).toEqual({ hand: 'S', strakes: ['B2', 'B3'] });
  });

  it.each([true, false])(
    'find the row under the y they were drawn at, seen from inside %s',
    (inside) => {
      const rows = rowsAround(HULL, spotOf(HULL, place('P', ['B1', 'B2']), 23.5));
      for (let row = rows.low; row < rows.high; row += 1) {
        const middle = (rowY(rows, inside, 46, 41, row) + rowY(rows, inside, 46, 41, row + 1)) / 2;
        expect(rowAt(rows, inside, 46, 41, middle)).toBe(row);
      }
    },
  );

  it.each([7, 5, 3])('show whatever strake the place is on, %d lines at once', (shown) => {
    const names = HULL.strakes as string[];
    for (const hand of ['P', 'S'] as const)
      for (let at = 0; at + 1 < names.length; at += 1) {
        const strakes = names.slice(at, at + 2) as [string, string];
        const spot = spotOf(HULL, place(hand, strakes), 23.5);
        const { low, high } = rowsAround(HULL, spot, shown);
        expect([hand, strakes, low <= spot.from && spot.to <= high]).toEqual([hand, strakes, true]);
        expect(high - low).toBe(shown - 1);
      }
  });

  it('lie the other way up when the shell is seen from inside', () => {
    const rows = { low: -2, high: 4 };
    expect(rowY(rows, true, 46, 41, 4)).toBeGreaterThan(rowY(rows, true, 46, 41, -2));
    expect(rowY(rows, false, 46, 41, 4)).toBeLessThan(rowY(rows, false, 46, 41, -2));
  });
});

describe('cells looked at', () => {
  it('are those of the records, on their own hand only', () => {
    const cell = { structure: 'Hull', hand: 'S', bay: ['F1', 'F3'], strakes: ['K', 'B2'] };
    const done = looksOf(HULL, [{ record: 'r1', cell, looked_at: true }]).looked;
    expect(done.size).toBe(4);
    expect(done.has(cellName(1, -1))).toBe(true);
    expect(done.has(cellName(1, 0))).toBe(false);
  });

  it('leave out what was blocked and what names a member that is not there', () => {
    const blocked = { structure: 'Hull', hand: 'P', bay: ['F1', 'F2'], strakes: ['K', 'B1'] };
    const unknown = { ...blocked, bay: ['F1', 'F9'] };
    const records = [
      { record: 'r1', cell: blocked, looked_at: false },
      { record: 'r2', cell: unknown, looked_at: true },
    ];
    expect(looksOf(HULL, records).looked.size).toBe(0);
  });

  it('keep the reason of a blocked bay until it was looked at', () => {
    const cell = { structure: 'Hull', hand: 'P', bay: ['F1', 'F2'], strakes: ['K', 'B2'] };
    const bay = { ...cell, bay: ['F1', 'F2'], strakes: ['K', 'B2'] } as Bay;
    const tank = { record: 'r1', cell, looked_at: false, blocked: 'tank' };
    const looked = { record: 'r2', cell, looked_at: true };
    expect(bayLooks(HULL, bay, looksOf(HULL, [tank]))).toEqual({ looked: false, blocked: 'tank' });
    const panel = { record: 'r3', cell, looked_at: false, blocked: 'panel on' };
    expect(bayLooks(HULL, bay, looksOf(HULL, [tank, panel, tank])).blocked).toBe('tank, panel on');
    const both = bayLooks(HULL, bay, looksOf(HULL, [looked, tank]));
    expect(both).toEqual({ looked: true, blocked: null });
    expect(bayLooks(HULL, null, looksOf(HULL, [looked])).looked).toBe(false);
  });

  it('of a wing are faces: a look is at one, and the bay is done when all are', () => {
    const faces = { strakes: [], faces: ['upper', 'lower'] };
    const wing: typeof HULL = { ...HULL, name: 'Wing', hands: ['P'], ...faces };
    const cell = { structure: 'Wing', hand: 'P', bay: ['F1', 'F2'] };
    const at = (face: string) => ({ record: face, cell: { ...cell, face }, looked_at: true });
    const bay = bayOf(wing, {
      ...{ structure: 'Wing', hand: 'P', member: 'F1', face: 'upper' },
      offset: { value: '0', unit: 'in' },
    });
    expect(bay && [cellValue(bay), bayWords(bay)]).toEqual([
      { ...cell, face: 'upper' },
      'F1–F2 port, upper',
    ]);
    const one = looksOf(wing, [at('upper'), { record: 'r', cell, looked_at: true }]);
    expect([one.looked.size, bayLooks(wing, bay, one).looked]).toEqual([0, true]);
    expect(bayLooks(wing, bay, looksOf(wing, [at('lower')])).looked).toBe(false);
    expect(looksOf(wing, [at('upper'), at('lower')]).looked.size).toBe(1);
  });
});

// What reaches over several bays is drawn in its whole extent.
import { describe, expect, it } from 'vitest';
import { reachPath } from '../../../frontend/src/screens/airframe/reach';
import type { Structure } from '../../../frontend/src/screens/airframe/window';
import type { DefectRow } from '../../../frontend/src/services/shop';

const HULL = {
  ...{ name: 'Hull', axis: 'Sta', unit: 'in', hands: ['P', 'S'] },
  members: ['F1', 'F2', 'F3'].map((name, at) => ({ name, station: String(10 * (at + 1)) })),
  strakes: ['K', 'B1', 'B2', 'C'],
} as unknown as Structure;
const PAPER = { width_px: 300, x: (at: number) => at * 10, y: (line: number) => 100 - line * 10 };
const ROWS = { low: 0, high: 3 };
const inches = (value: string) => ({ value, unit: 'in' });

function row(to: object | null, hand = 'P') {
  const place = { structure: 'Hull', hand, member: 'F1', offset: inches('2'), to };
  const on = { ...place, strakes: ['B1', 'B2'] };
  return { structure: 'Hull', place: on, station: '12' } as unknown as DefectRow;
}

describe('what reaches from one place to another', () => {
  it('is outlined from its forward end to its other end, on its strakes', () => {
    const path = reachPath(HULL, ROWS, PAPER, [row({ member: 'F2', offset: inches('5') })]);
    expect(path).toBe('M120.0 90H250.0V80H120.0Z');
  });

  it('is cut off at the edge of the drawing', () => {
    const path = reachPath(HULL, ROWS, PAPER, [row({ member: 'F3', offset: inches('9') })]);
    expect(path).toContain('H300.0V');
  });

  it('is not drawn for a spot, on strakes out of the window, or at a member that is gone', () => {
    const gone = row({ member: 'F9', offset: inches('0') });
    expect(reachPath(HULL, ROWS, PAPER, [row(null), row({ member: 'F2' }, 'S'), gone])).toBe('');
  });
});

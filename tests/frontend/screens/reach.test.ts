// What reaches over several bays is drawn in its whole extent.
import { describe, expect, it } from 'vitest';
import { reachNames, reachPath } from '../../../frontend/src/screens/airframe/reach';
import type { Structure } from '../../../frontend/src/screens/airframe/window';
import type { DefectRow } from '../../../frontend/src/services/shop';

const HULL = {
  ...{ name: 'Hull', axis: 'Sta', unit: 'in', hands: ['P', 'S'] },
  members: ['F1', 'F2', 'F3'].map((name, at) => ({ name, station: String(10 * (at + 1)) })),
  strakes: ['K', 'B1', 'B2', 'C'],
} as unknown as Structure;
const PAPER = { width_px: 300, x: (at: number) => at * 10, y: (line: number) => 200 - line * 40 };
const ROWS = { low: 0, high: 3 };
const inches = (value: string) => ({ value, unit: 'in' });

function row(to: object | null, hand = 'P', strakes = ['B1', 'B2']) {
  const place = { structure: 'Hull', hand, member: 'F1', offset: inches('2'), to, strakes };
  const of = { structure: 'Hull', number: 'A/0007', station: '12' };
  return { ...of, place } as unknown as DefectRow;
}

describe('what reaches from one place to another', () => {
  it('is outlined from its forward end to its other end, within its strakes', () => {
    const path = reachPath(HULL, ROWS, PAPER, [row({ member: 'F2', offset: inches('5') })]);
    expect(path).toBe('M120.0 156H250.0V124H120.0Z');
    const upside_down = { ...PAPER, y: (line: number) => 40 + line * 40 };
    expect(reachPath(HULL, ROWS, upside_down, [row({ member: 'F2' })])).toBe(
      'M120.0 84H200.0V116H120.0Z',
    );
  });

  it('is drawn about the keel line where it runs along it', () => {
    const keel = row({ member: 'F2', offset: inches('0') }, 'C', ['K', 'K']);
    expect(reachPath(HULL, ROWS, PAPER, [keel])).toBe('M120.0 206H200.0V194H120.0Z');
    expect(reachPath(HULL, { low: 1, high: 3 }, PAPER, [keel])).toBe('');
  });

  it('shows by a break where it goes on beyond the drawing, and by none at its own ends', () => {
    const aft = row({ member: 'F3', offset: inches('9') });
    expect(reachPath(HULL, ROWS, PAPER, [aft])).toBe(
      'M120.0 156H286.0V152L295.0 146L277.0 134L286.0 128V124H120.0Z',
    );
    const before = { ...PAPER, x: (at: number) => at * 10 - 150 };
    expect(reachPath(HULL, ROWS, before, [row({ member: 'F3', offset: inches('0') })])).toBe(
      'M44.0 156H150.0V124H44.0V128L53.0 134L35.0 146L44.0 152V156Z',
    );
    const edge = row({ member: 'F3', offset: inches('0') });
    expect(reachPath(HULL, ROWS, PAPER, [edge])).toBe('M120.0 156H300.0V124H120.0Z');
  });

  it('shows by a break where it goes on beyond the strakes of the drawing', () => {
    const low = reachPath(HULL, { low: 0, high: 2 }, PAPER, [
      row({ member: 'F2', offset: inches('5') }, 'P', ['B1', 'C']),
    ]);
    expect(low).toBe('M120.0 156H250.0V120H197.0L191.0 129L179.0 111L173.0 120H120.0Z');
  });

  it('is drawn with its number where it only begins outside, and not where it ends there', () => {
    const past = { ...PAPER, x: (at: number) => (at - 20) * 20 };
    const begins = row({ member: 'F3', offset: inches('0') });
    const ended = row({ member: 'F2', offset: inches('-3') });
    expect(reachPath(HULL, ROWS, past, [begins])).toMatch(/^M44\.0 156H200\.0V124H44\.0V128L/);
    expect(reachPath(HULL, ROWS, past, [ended])).toBe('');
    const names = reachNames(HULL, ROWS, past, [begins, ended], []);
    expect(names.map(({ number }) => number)).toEqual(['A/0007']);
    // Where something stands already it gives way along the outline.
    const box = names[0]?.box;
    expect(reachNames(HULL, ROWS, past, [begins], box ? [box] : [])[0]?.box.left).toBeGreaterThan(
      box?.left ?? 0,
    );
    expect(reachNames(HULL, ROWS, PAPER, [begins], [])).toEqual([]);
  });

  it('is not drawn for a spot, on strakes out of the window, or at a member that is gone', () => {
    const gone = row({ member: 'F9', offset: inches('0') });
    expect(reachPath(HULL, ROWS, PAPER, [row(null), row({ member: 'F2' }, 'S'), gone])).toBe('');
  });
});

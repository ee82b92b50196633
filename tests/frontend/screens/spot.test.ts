import { describe, expect, it } from 'vitest';
import type { Definition, Place } from '../../../frontend/src/domain/place';
import { placeHere } from '../../../frontend/src/screens/airframe/spot';

/** A made-up fuselage in mm; a later issue has F7N between F7 and F8. */
function issue(...members: [name: string, station: string][]) {
  const made = members.map(([name, station]) => ({ name, station }));
  const structure = { name: 'Fuselage', unit: 'mm', hands: ['P', 'S'], strakes: ['K', 'S1'] };
  return {
    unit: 'mm',
    structures: [{ ...structure, positive: 'aft', members: made }],
  } as unknown as Definition;
}

const FIRST = issue(['F7', '1180'], ['F8', '1600'], ['F9', '2050']);
const SECOND = issue(['F7', '1180'], ['F7N', '1300'], ['F8', '1600'], ['F9', '2050']);
const at = (member: string, value: string, precision = 'exact') =>
  ({
    ...{ structure: 'Fuselage', hand: 'P', strakes: ['K', 'S1'], precision },
    ...{ member, offset: { value, unit: 'mm' } },
  }) as unknown as Place;

describe('the place kept on a tablet, by a later issue of the airframe', () => {
  it('lies in the bay that it lies in now', () => {
    expect(placeHere(SECOND, at('F7', '210'))).toMatchObject(at('F7N', '90'));
    expect(placeHere(FIRST, at('F7', '210'))).toEqual(at('F7', '210'));
  });

  it('of a bay alone is the whole of the bay that its middle lies in', () => {
    expect(placeHere(SECOND, at('F7', '210', 'bay only'))).toEqual(at('F7N', '150', 'bay only'));
    expect(placeHere(FIRST, at('F8', '225', 'bay only'))).toEqual(at('F8', '225', 'bay only'));
  });

  it('is not there once its hand, strakes, far end or bay are no more, or it can’t be read', () => {
    const other = { ...at('F7', '10'), hand: 'C' } as Place;
    expect(placeHere(FIRST, other)).toEqual(other);
    const gone = [
      { hand: 'X' },
      { strakes: ['K', 'B1'] },
      { face: 'outer' },
      { to: { member: 'F7N', offset: { value: '1', unit: 'mm' } } },
      { offset: { value: 'abc', unit: 'mm' } },
    ];
    for (const one of gone) {
      const place = { ...at('F7', '10'), ...one } as unknown as Place;
      expect(placeHere(FIRST, place)).toBeNull();
    }
    expect(placeHere(FIRST, at('F9', '40', 'bay only'))).toBeNull();
  });

  it('is not there once its member is no more', () => {
    expect(placeHere(FIRST, at('F7N', '0'))).toBeNull();
    expect(placeHere(FIRST, null)).toBeNull();
  });
});

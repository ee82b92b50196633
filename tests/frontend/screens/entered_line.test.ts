import { describe, expect, it } from 'vitest';
import type { Definition, Place } from '../../../frontend/src/domain/place';
import { enteredLine } from '../../../frontend/src/screens/defects/head';
import second from '../../vectors/second_airframe.json';

const SECOND = second as unknown as Definition;
const at = (member: string, value: string) =>
  ({ structure: 'Fuselage', hand: 'P', member, offset: { value, unit: 'mm' } }) as Place;

describe('how a place was entered', () => {
  it('is told where another member is nearer today', () => {
    expect(enteredLine(SECOND, { place: at('F1', '500.0') })).toBe('entered as F1 + 500.0 aft');
  });

  it('is not told where it reads so, or can not be read', () => {
    expect(enteredLine(SECOND, { place: at('F1', '400.0') })).toBeNull();
    expect(enteredLine(SECOND, { place: at('F99', '1.0') })).toBeNull();
    expect(enteredLine(SECOND, { place: { off: 'Bench 1', part: 'Fin' } as Place })).toBeNull();
    expect(enteredLine(SECOND, { place: null })).toBeNull();
    expect(enteredLine(null, { place: at('F1', '500.0') })).toBeNull();
  });
});

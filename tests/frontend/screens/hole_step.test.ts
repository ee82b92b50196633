import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stationOf } from '../../../frontend/src/domain/place';
import { type Pitch, pitchHere, stepHole } from '../../../frontend/src/screens/airframe/hole_step';
import type { Definition, Place } from '../../../frontend/src/services/shop';

const member = (name: string, station: string) => ({ name, kind: 'frame', station });
const DEFINITION = {
  ...{ name: 'Marram', unit: 'in', zones: [], views: [] },
  structures: [
    {
      ...{ name: 'Hull', hands: ['P', 'S'], strakes: ['K', 'B1'], axis: 'Sta', unit: 'in' },
      ...{ datum: '', positive: 'aft', faces: [], plating: [] },
      members: [member('F5', '57'), member('F6', '70'), member('F7', '83')],
    },
  ],
} as unknown as Definition;
const place = (name: string, value: string): Place => ({
  ...{ structure: 'Hull', hand: 'P', member: name, strakes: ['K', 'B1'] },
  offset: { value, unit: 'in' },
});
const PITCH: Pitch = { value: '0.75', unit: 'in', line: 'RL-01' };

describe('a step from hole to hole', () => {
  it('goes by the pitch, and across a member counts from that', () => {
    const on = stepHole(DEFINITION, place('F5', '12.5'), PITCH, 1);
    expect(on).toMatchObject({ member: 'F6', offset: { value: '0.25', unit: 'in' } });
    const back = on && stepHole(DEFINITION, on, PITCH, -1);
    expect(back).toMatchObject({ member: 'F5', offset: { value: '12.50' } });
  });

  it('has an end at the first and the last member', () => {
    expect(stepHole(DEFINITION, place('F5', '0.5'), PITCH, -1)).toBeNull();
    expect(stepHole(DEFINITION, place('F6', '12.5'), PITCH, 1)).toBeNull();
  });

  it('says of a bay or a length one measured spot', () => {
    const bay: Place = { ...place('F6', '6.5'), precision: 'bay only', to: { member: 'F7' } };
    const next = stepHole(DEFINITION, bay, PITCH, -1);
    expect(next).toMatchObject({ member: 'F6', offset: { value: '5.75' }, precision: 'exact' });
    expect(next).not.toHaveProperty('to');
  });

  it('forward and back again is the same station, wherever it starts', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1100 }), fc.integer({ min: 1, max: 190 }), (at, by) => {
        const start = place('F5', (at / 100).toFixed(2));
        const pitch: Pitch = { ...PITCH, value: (by / 100).toFixed(2) };
        const on = stepHole(DEFINITION, start, pitch, 1) as Place;
        const back = stepHole(DEFINITION, on, pitch, -1) as Place;
        expect(Number(stationOf(DEFINITION, back).value)).toBe((5700 + at) / 100);
        expect(Number(stationOf(DEFINITION, on).value)).toBeCloseTo(57 + (at + by) / 100, 9);
      }),
    );
  });
});

describe('the pitch that holds here', () => {
  const line = (defect: string, value: string) => ({
    ...{ record: `l-${defect}`, defect, name: `RL-${defect}` },
    design: { pitch: { value, unit: 'in' } },
  });
  const stations = new Map([
    ['near', 60],
    ['far', 120],
  ]);

  it('is that of the nearest rivet line of the structure', () => {
    const lines = [line('far', '1.0'), line('near', '0.75'), line('elsewhere', '0.5')];
    expect(pitchHere(lines, stations, 58)).toEqual({ ...PITCH, line: 'RL-near' });
  });

  it('is nobody’s guess where no line says one', () => {
    expect(pitchHere([{ defect: 'near', design: { head: 'round' } }], stations, 58)).toBeNull();
    expect(pitchHere([], stations, 58)).toBeNull();
  });
});

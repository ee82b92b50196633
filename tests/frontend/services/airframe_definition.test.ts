// A lead's rows and the definition they come to: nothing is lost between them.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Definition } from '../../../frontend/src/domain/place';
import { zoneOf } from '../../../frontend/src/domain/place';
import {
  definitionOf,
  describe as described,
} from '../../../frontend/src/services/airframe_definition';
import {
  BLANK,
  BLANK_STRUCTURE,
  type Description,
} from '../../../frontend/src/services/airframe_rows';

const MARRAM = new URL(
  '../../../sample_data/skinpin_demo/data/definition_2603.json',
  import.meta.url,
);
const marram = () => JSON.parse(readFileSync(MARRAM, 'utf8')) as Definition;

/** A small airframe in mm, with stations before its datum. */
function heron(change: Partial<Description> = {}): Description {
  return {
    ...BLANK,
    ...{ name: 'Sedge', constructor_number: '4417', unit: 'mm' },
    structures: [
      {
        ...BLANK_STRUCTURE,
        ...{ name: 'Fuselage', strakes: 'K, B1–B2, C', datum: 'front face of the firewall' },
        members: [
          { name: 'Fr2', station: '0', main: 'yes' },
          { name: 'Fr1', station: '−450' },
          { name: 'Fr2A', station: '150', kind: 'h' },
          { name: '340B', station: '300', upper_station: '320', written: '340B', added: 'yes' },
        ],
        plates: [{ part: 'bottom plating', low: 'K', high: 'C', thickness: '1,2' }],
      },
    ],
    zones: [
      { zone: '111', title: 'Bow, port', hand: 'port', to: 'Fr2', confined: 'x' },
      { zone: '121', hand: 'P', from: 'Fr2', low: 'K', high: 'C' },
    ],
    access: [{ zone: '111', name: 'Floor 1', kind: 'floor', fixings: '12' }],
    off_aircraft: [{ name: 'Bench 2' }],
    ...change,
  };
}

describe('definitionOf', () => {
  it('makes a definition of typed rows', () => {
    const { definition, troubles } = definitionOf(heron());
    expect(troubles).toEqual([]);
    const [fuselage] = definition.structures;
    expect(fuselage?.members).toEqual([
      { name: 'Fr2', kind: 'frame', station: '0', main: true },
      { name: 'Fr1', kind: 'frame', station: '-450' },
      { name: 'Fr2A', kind: 'half frame', station: '150' },
      {
        ...{ name: '340B', kind: 'frame', station: '300', upper_station: '320', written: '340B' },
        added: 'by repair',
      },
    ]);
    expect(fuselage?.strakes).toEqual(['K', 'B1', 'B2', 'C']);
    expect(fuselage?.unit).toBe('mm');
    expect(fuselage?.plating).toEqual([
      { strakes: [0, 4], part: 'bottom plating', thickness: '1.2', material: 'AL' },
    ]);
    expect(definition.zones[0]).toEqual({
      ...{ zone: '111', title: 'Bow, port', structure: 'Fuselage', hand: 'P', along: [null, '0'] },
      ...{ access: [{ name: 'Floor 1', kind: 'floor', fixings: 12 }], confined: true },
    });
    expect(definition.zones[1]?.title).toBe('Zone 121');
  });

  it('reads a bound by the member that stands there, and that zone begins at it', () => {
    const { definition } = definitionOf(heron());
    const at = (member: string, value: string) =>
      zoneOf(definition, {
        ...{ structure: 'Fuselage', hand: 'P', member, strakes: ['K', 'B1'] },
        offset: { value, unit: 'mm' },
      });
    expect(at('Fr1', '449.9')).toBe('111');
    expect(at('Fr2', '0')).toBe('121');
  });

  it('says which cell of a zone means nothing', () => {
    const zones = [{}, { zone: '111', from: 'Fr9', low: 'B7' }];
    const { troubles } = definitionOf(heron({ zones, access: [{ zone: '112', name: 'x' }] }));
    expect(troubles.map(({ at }) => at)).toEqual(['zones/0/from', 'zones/0/low', 'access/0/zone']);
    expect(troubles[0]?.message).toContain('Fr9');
  });

  it('takes a strake line up to the last one with it', () => {
    const { definition } = definitionOf(heron({ zones: [{ zone: '111', low: 'B1', high: 'C' }] }));
    expect(definition.zones[0]?.strakes).toEqual([1, 4]);
    const some = definitionOf(heron({ zones: [{ zone: '111', high: 'B2' }] }));
    expect(some.definition.zones[0]?.strakes).toEqual([0, 2]);
  });
});

describe('describe', () => {
  it('loses nothing of the demo definition', () => {
    const definition = marram();
    expect(definitionOf(described(definition)).definition).toEqual(definition);
  });

  it('loses nothing of what was typed, nor of fields that no table shows', () => {
    const typed = definitionOf(heron()).definition;
    const [zone, ...zones] = typed.zones;
    const [fuselage] = typed.structures;
    const odd = {
      ...typed,
      ...{
        weighed: '2024-01-02',
        zones: [{ ...zone, cells: 3, along: null, note: 'x' }, ...zones],
      },
      structures: [{ ...fuselage, stringers: ['K', 'B1', 'B2', 'C'], jig: { a: [1, null] } }],
    } as unknown as Definition;
    expect(definitionOf(described(odd)).definition).toEqual(odd);
  });

  it('leaves out which issue it replaced: the next one replaces this one', () => {
    const definition = { ...marram(), replaces: 'a'.repeat(64) };
    expect(definitionOf(described(definition)).definition).toEqual(marram());
  });

  it('shows a bound by the name of its member', () => {
    const zone = described(marram()).zones.find((row) => row.zone === '111');
    expect(zone).toMatchObject({ from: '0', to: 'F8', low: 'K', high: 'C', hand: 'P' });
  });
});

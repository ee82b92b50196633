// What is drawn of zones agrees with the zone that a place gets.
import { describe, expect, it } from 'vitest';
import { type Definition, type Place, zoneOf } from '../../../frontend/src/domain/place';
import { areaWords, zoneAreas } from '../../../frontend/src/services/airframe_cells';
import { definitionOf } from '../../../frontend/src/services/airframe_definition';
import { BLANK, BLANK_STRUCTURE, type Row } from '../../../frontend/src/services/airframe_rows';

function airframe(zones: Row[]): Definition {
  const members = [0, 100, 250, 400].map((station, at) => ({
    ...{ name: `F${at + 1}`, station: String(station) },
  }));
  const structure = { ...BLANK_STRUCTURE, name: 'Hull', strakes: 'K, B1, B2, C', members };
  return definitionOf({ ...BLANK, structures: [structure], zones }).definition;
}
const areas = (definition: Definition) =>
  zoneAreas(definition, definition.structures[0] as Definition['structures'][number]);

describe('zoneAreas', () => {
  it('finds the gap and the overlap, each as one area', () => {
    const definition = airframe([
      { zone: '110', hand: 'C' },
      { zone: '111', hand: 'P', to: 'F3' },
      { zone: '121', hand: 'P', from: 'F2', low: 'B1' },
      { zone: '112', hand: 'S' },
    ]);
    const { gaps, overlaps } = areas(definition);
    const [structure] = definition.structures;
    expect(gaps.map((area) => areaWords(structure as never, area))).toEqual([
      'Hull, port, F3 to F4, K to B1: no zone',
    ]);
    expect(overlaps.map((area) => areaWords(structure as never, area))).toEqual([
      'Hull, port, F2 to F3, B1 to C: in zones 111 and 121',
    ]);
  });

  it('agrees with the zone of 2,000 places of random rules', () => {
    const random = seeded(20_261_129);
    const pick = <T>(some: readonly T[]) => some[Math.floor(random() * some.length)] as T;
    for (let rule = 0; rule < 40; rule += 1) {
      const zones = Array.from({ length: 4 }, (_, at) => ({
        ...{
          zone: String(100 + at),
          hand: pick(['P', 'S', '']),
          from: pick(['', 'F1', 'F2', '60']),
        },
        ...{ to: pick(['', 'F3', 'F4', '330']), low: pick(['', 'B1', 'B2']), high: '' },
      }));
      const definition = airframe(zones);
      const { gaps, overlaps } = areas(definition);
      for (let turn = 0; turn < 50; turn += 1) {
        const hand = pick(['P', 'S'] as const);
        const line = Math.floor(random() * 3);
        const station = Math.round(random() * 3999) / 10;
        const place: Place = {
          ...{
            structure: 'Hull',
            hand,
            member: 'F1',
            offset: { value: String(station), unit: 'in' },
          },
          strakes: ['K', 'B1', 'B2', 'C'].slice(line, line + 2),
        };
        const inside = (some: typeof gaps) =>
          some.some((area) => {
            const [near, far] = [area.low, area.high].map(Math.abs).sort((a, b) => a - b) as [
              number,
              number,
            ];
            return (
              area.hand === hand &&
              area.from <= station &&
              station < area.to &&
              near <= line &&
              line < far
            );
          });
        const found = codeOf(() => zoneOf(definition, place));
        expect([inside(gaps), inside(overlaps)], JSON.stringify({ zones, place })).toEqual([
          found === 'outside_airframe',
          found === 'zones_overlap',
        ]);
      }
    }
  });
});

function codeOf(work: () => string): string {
  try {
    return work();
  } catch (error) {
    return (error as { code: string }).code;
  }
}

function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1_664_525 + 1_013_904_223) % 4_294_967_296;
    return state / 4_294_967_296;
  };
}

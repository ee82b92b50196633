import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Refused } from '../../frontend/src/domain/errors';
import {
  cellOf,
  type Definition,
  enteredWords,
  type Hand,
  memberBefore,
  type Place,
  placeAt,
  placeWords,
  readPosition,
  type Structure,
  stationOf,
  stationWords,
  stepBay,
  stepStrake,
  structureOf,
  type View,
  viewPoint,
  zoneOf,
  zoneParts,
  zonesOf,
} from '../../frontend/src/domain/place';
import { compare } from '../../frontend/src/domain/quantities';
import definition_2603 from '../../sample_data/skinpin_demo/data/definition_2603.json';
import vectors from '../vectors/place.json';

const MADE = vectors.definition as unknown as Definition;
const MARRAM = definition_2603 as unknown as Definition;
const placeOf = (row: { place?: unknown }) => row.place as Place;
const viewNamed = (name: string) => MADE.views.find((view) => view.name === name) as View;

function codeOf(act: () => unknown): string {
  try {
    act();
  } catch (error) {
    expect(error).toBeInstanceOf(Refused);
    expect((error as Refused).message).toMatch(/\.$/);
    return (error as Refused).code;
  }
  return 'not refused';
}

describe('place', () => {
  it.each(vectors.demo)('demo record $number lies at its station, in its zone', (row) => {
    expect(zoneOf(MARRAM, placeOf(row))).toBe(row.zone);
    expect(zonesOf(MARRAM, placeOf(row))).toEqual([row.zone]);
    expect(placeWords(MARRAM, placeOf(row))).toBe(row.words);
    if (row.station) expect(compare(stationOf(MARRAM, placeOf(row)), row.station)).toBe(0);
  });

  it.each(vectors.stations)('a station is member and offset: $station', (row) => {
    expect(stationOf(MADE, placeOf(row))).toEqual(row.station);
  });

  it.each(vectors.read)('a typed position: $text', (row) => {
    const structure = structureOf(MADE, row);
    const read = () => readPosition(structure, row.text);
    if (row.refused !== undefined) expect(codeOf(read)).toBe(row.refused);
    else {
      const offset = { value: row.offset, unit: structure.unit };
      expect(read()).toEqual({ member: row.member, offset });
    }
  });

  it.each(vectors.member_before)('the member before $station', (row) => {
    const member = memberBefore(structureOf(MADE, row), row.station);
    expect(member?.name ?? null).toBe(row.member);
  });

  it.each(vectors.zones)('zones are half-open: $why', (row) => {
    const zone = () => zoneOf(MADE, placeOf(row));
    if (row.refused !== undefined) expect(codeOf(zone)).toBe(row.refused);
    else expect(zone()).toBe(row.zone);
  });

  it.each(vectors.through)('a long place runs through $zones', (row) => {
    expect(zonesOf(MADE, placeOf(row))).toEqual(row.zones);
  });

  it.each(vectors.cells)('a cell is bay and strake, or bay and face: $cell', (row) => {
    expect(cellOf(MADE, placeOf(row))).toEqual(row.cell);
  });

  it.each(vectors.steps)('a step leads to the neighbour or says why not: $step $by', (row) => {
    const step = row.step === 'bay' ? stepBay : stepStrake;
    const taken = step(MADE, placeOf(row), row.by as 1 | -1);
    expect(taken).toEqual({ place: row.to ?? null, reason: row.reason ?? '' });
  });

  it.each(vectors.words)('a place reads in trade notation: $words', (row) => {
    expect(placeWords(MADE, placeOf(row))).toBe(row.words);
    expect(enteredWords(MADE, placeOf(row))).toBe(row.entered ?? '');
  });

  it('a station reads with its axis', () => {
    expect(stationWords(MARRAM, placeOf(vectors.demo[1] ?? {}))).toBe('Sta 72.0');
  });

  it.each(vectors.points)('a place has its point on $view', (row) => {
    const [x, y] = viewPoint(viewNamed(row.view), MADE, placeOf(row));
    expect(x).toBeCloseTo(row.point[0] as number, 9);
    expect(y).toBeCloseTo(row.point[1] as number, 9);
  });

  it.each(vectors.touches)('a touch on $view is a place: $x $y', (row) => {
    const hand = (row.hand ?? null) as Hand | null;
    const touched = () => placeAt(viewNamed(row.view), MADE, row.x, row.y, hand);
    if (row.refused !== undefined) expect(codeOf(touched)).toBe(row.refused);
    else expect(touched()).toEqual(row.place);
  });

  it.each(vectors.zone_parts)('zone number $zone', (row) => {
    const parts = () => zoneParts(row.zone);
    if (row.refused !== undefined) expect(codeOf(parts)).toBe(row.refused);
    else expect(parts()).toEqual({ major: row.major, sub_zone: row.sub_zone, zone: row.zone });
  });

  it('two zones over one place are refused', () => {
    const again = { ...(MADE.zones[1] as Definition['zones'][number]), zone: '199' };
    const doubled = { ...MADE, zones: [...MADE.zones, again] };
    expect(codeOf(() => zoneOf(doubled, placeOf(vectors.zones[0] ?? {})))).toBe('zones_overlap');
  });
});

/** Places by quarter inches, so that boundaries come up. */
function placesOn(structure: Structure): fc.Arbitrary<Place> {
  const { strakes, members } = structure;
  const end = (at: number) => Number(members.at(at)?.station) * 4;
  return fc
    .record({
      quarters: fc.integer({ min: Math.ceil(end(0)), max: Math.floor(end(-1)) }),
      hand: fc.constantFrom(...structure.hands),
      lower: fc.nat(Math.max(strakes.length - 2, 0)),
    })
    .map(({ quarters, hand, lower }) => ({
      structure: structure.name,
      hand,
      ...readPosition(structure, String(quarters / 4)),
      ...(strakes.length > 0 && { strakes: strakes.slice(lower, lower + 2) }),
    }));
}

describe('any place on the Marram', () => {
  const anywhere = fc.constantFrom(...MARRAM.structures).chain(placesOn);
  const onHull = placesOn(MARRAM.structures[0] as Structure);

  it('is in exactly one zone', () => {
    fc.assert(
      fc.property(anywhere, (place) => {
        expect(zonesOf(MARRAM, place)).toEqual([zoneOf(MARRAM, place)]);
      }),
      { numRuns: 400 },
    );
  });

  it('is touched again where its point is drawn', () => {
    const view = MARRAM.views[0] as View;
    fc.assert(
      fc.property(onHull, (place) => {
        const again = placeAt(view, MARRAM, ...viewPoint(view, MARRAM, place));
        if (place.hand !== 'C') {
          expect([again.hand, again.strakes]).toEqual([place.hand, place.strakes]);
        }
        const apart =
          Number(stationOf(MARRAM, again).value) - Number(stationOf(MARRAM, place).value);
        expect(Math.abs(apart)).toBeLessThanOrEqual(0.0501);
      }),
    );
  });

  it('is led back to by a bay aft and a bay forward', () => {
    fc.assert(
      fc.property(onHull, (place) => {
        const there = stepBay(MARRAM, place, 1).place;
        fc.pre(there !== null);
        const back = stepBay(MARRAM, there as Place, -1).place as Place;
        expect(cellOf(MARRAM, back).bay).toEqual(cellOf(MARRAM, place).bay);
      }),
    );
  });
});

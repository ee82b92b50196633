import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Refused } from '../../frontend/src/domain/errors';
import {
  type Definition,
  type Place,
  placeWords,
  type Structure,
  stationOf,
  zoneOf,
} from '../../frontend/src/domain/place';
import { readPlace } from '../../frontend/src/domain/place_typed';
import definition_2603 from '../../sample_data/skinpin_demo/data/definition_2603.json';
import vectors from '../vectors/place_typed.json';
import second from '../vectors/second_airframe.json';

const SECOND = second as unknown as Definition;
const MARRAM = definition_2603 as unknown as Definition;

function codeOf(act: () => unknown): string {
  try {
    act();
  } catch (error) {
    expect(error).toBeInstanceOf(Refused);
    expect((error as Refused).message).toMatch(/[.?]$/);
    return (error as Refused).code;
  }
  return 'not refused';
}

const said = ({ message, hint }: { message?: string; hint?: string }) => ({ message, hint });

describe('a place typed in trade notation', () => {
  it.each(vectors.read)('$why: $text', (row) => {
    const read = () => readPlace(SECOND, row.text, (row.at ?? {}) as Place);
    if (row.refused !== undefined) {
      expect(codeOf(read)).toBe(row.refused);
      if (row.message) expect(read).toThrow(expect.objectContaining(said(row)));
    } else expect(read()).toEqual(row.place);
  });
});

/** Any place that the screens can make: a spot or a span, with all it may say. */
function placed(structure: Structure): fc.Arbitrary<Place> {
  const { members, strakes, faces, hands, unit, name } = structure;
  const end = fc.record({
    member: fc.constantFrom(...members.map((one) => one.name)),
    offset: fc
      .integer({ min: -3000, max: 3000 })
      .map((tenths) => ({ value: (tenths / 10).toFixed(1), unit })),
  });
  const pair = fc.tuple(fc.nat(20), fc.nat(3)).map(([low, span]) => {
    const first = low % strakes.length;
    return [strakes[first], strakes[Math.min(first + span, strakes.length - 1)]];
  });
  const more = fc.record(
    {
      to: end,
      layer: fc.integer({ min: 1, max: 9 }),
      ...(strakes.length > 0 && { strakes: pair }),
      ...(faces.length > 0 && { face: fc.constantFrom(...faces) }),
    },
    { requiredKeys: [] },
  );
  return fc
    .tuple(fc.constantFrom(...hands), end, more)
    .map(([hand, from, rest]) => ({ structure: name, hand, ...from, ...rest }) as Place);
}

/** What a place says, however it is spelt: the metal it lies on. */
function meaning(definition: Definition, place: Place) {
  const { structure, hand, strakes, face, layer } = place;
  const station = Number(stationOf(definition, place).value);
  let zone = '';
  try {
    zone = zoneOf(definition, place);
  } catch (error) {
    zone = (error as Refused).code;
  }
  return { structure, hand, strakes, face, layer, station, zone };
}

describe.each([
  ['the Marram', MARRAM],
  ['the one in mm', SECOND],
])('words on %s', (_, definition) => {
  it('read back as the same place', () => {
    const anywhere = fc.constantFrom(...definition.structures).chain(placed);
    fc.assert(
      fc.property(anywhere, (place) => {
        const words = placeWords(definition, place);
        const again = readPlace(definition, words);
        expect(placeWords(definition, again)).toBe(words);
        expect(meaning(definition, again)).toEqual(meaning(definition, place));
      }),
      { numRuns: 300 },
    );
  });
});

it('whatever is typed is read or refused with a sentence', () => {
  const odd = fc.oneof(
    fc.string(),
    fc
      .array(fc.constantFrom(...'Fuselage·;, S-4LRsheetbayonly+−0123456789.to'))
      .map((all) => all.join('')),
  );
  fc.assert(
    fc.property(odd, (text) => {
      codeOf(() =>
        placeWords(SECOND, readPlace(SECOND, text, { structure: 'Fuselage', hand: 'P' })),
      );
    }),
    { numRuns: 300 },
  );
});

const SPACES = [9, 11, 12, 13, 28, 31, 0x85, 0xa0, 0x1680, 0x2003, 0x2028, 0xfeff].map((at) =>
  String.fromCharCode(at),
);
const ODD = ['\u017f', '\u212a', '\u0130', '\u0131', '\u200b', '\u0662', '\ud800', '\n'];
const PIECES = [...SPACES, ...ODD, ...'FS2P4-·;,+', 'Port', 'F2', 'S-4', 'sheet', 'in', 'to'];

function readOrRefused(text: string): string {
  try {
    return placeWords(SECOND, readPlace(SECOND, text, { structure: 'Fuselage', hand: 'P' }));
  } catch (error) {
    expect(error).toBeInstanceOf(Refused);
    return (error as Refused).message;
  }
}

it('every kind of white space is read as a space', () => {
  const texts = fc.array(fc.constantFrom(...PIECES), { maxLength: 14 });
  fc.assert(
    fc.property(texts, fc.constantFrom(...SPACES), (pieces, space) => {
      const other = (as: string) => pieces.map((one) => (SPACES.includes(one) ? as : one)).join('');
      expect(readOrRefused(other(space))).toBe(readOrRefused(other(' ')));
    }),
    { numRuns: 400 },
  );
});

it('no offset is read beyond 100 m', () => {
  fc.assert(
    fc.property(fc.integer({ min: -1e9, max: 1e9 }), (tenths) => {
      const sign = tenths < 0 ? '-' : '+';
      const said = readOrRefused(`F2 ${sign} ${(Math.abs(tenths) / 10).toFixed(1)}`);
      expect(said.includes('more than 100 m')).toBe(Math.abs(tenths) > 1e6);
    }),
    { numRuns: 200 },
  );
});

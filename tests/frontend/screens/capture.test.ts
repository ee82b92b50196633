import { describe, expect, it } from 'vitest';
import type { Definition, Place } from '../../../frontend/src/domain/place';
import { dueWords, nextTitle } from '../../../frontend/src/screens/airframe/day_parts';
import { nextHand, opposite } from '../../../frontend/src/screens/airframe/hands';
import { noneWords } from '../../../frontend/src/screens/airframe/here';
import { instrumentsFor } from '../../../frontend/src/screens/airframe/instrument_order';
import { questionOf, toLookAgain } from '../../../frontend/src/screens/airframe/look_again';
import { askable, nearby } from '../../../frontend/src/screens/airframe/nearby';
import { lastOnOneHand, leftOut } from '../../../frontend/src/screens/airframe/other_hand';
import { asCopied, copied } from '../../../frontend/src/screens/airframe/same_again';
import { lacking, toFinish } from '../../../frontend/src/screens/airframe/still_to_finish';
import { stepWords } from '../../../frontend/src/screens/airframe/undoing';
import { unbroken } from '../../../frontend/src/screens/frame/unbroken';
import { tagWords } from '../../../frontend/src/screens/measure/tag_keys';
import type { DefectRow, Json, Shop } from '../../../frontend/src/services/shop';

const member = (name: string, station: string) => ({ name, kind: 'frame', station });
const structure = (name: string, hands: string[], names: string[], strakes: string[] = []) => ({
  ...{ name, hands, strakes, axis: 'Sta', unit: 'in', datum: '', positive: 'aft', faces: [] },
  members: names.map((one, at) => member(one, String(70 + 13 * at))),
});
const DEFINITION = {
  name: 'Marram',
  unit: 'in',
  zones: [],
  views: [],
  structures: [
    structure('Hull', ['P', 'S', 'C'], ['F6', 'F7'], ['K', 'B1', 'B2', 'B3', 'C']),
    structure('Port wing', ['P'], ['R1', 'R2']),
    structure('Starboard wing', ['S'], ['R1', 'R2']),
    structure('Port float', ['P'], ['FS 30']),
  ],
} as unknown as Definition;
const HULL = DEFINITION.structures[0] as Definition['structures'][number];

const place = (over: Partial<Place> = {}): Place => ({
  ...{ structure: 'Hull', hand: 'P', member: 'F6', strakes: ['K', 'B1'], face: 'inner' },
  offset: { value: '2.5', unit: 'in' },
  precision: 'exact',
  ...over,
});

let serial = 0;
const row = (over: Partial<DefectRow> = {}): DefectRow => {
  serial += 1;
  const at = over.place ?? place();
  return {
    ...{ record: `r${serial}`, number: `A/${String(serial).padStart(4, '0')}`, state: 'Raised' },
    ...{ structure: at.structure, hand: at.hand, member: at.member, place: at, station: '72.5' },
    ...{
      kind: 'pitting',
      grade: 2,
      grade_known: true,
      raised_by: 'me',
      photographs: 2,
      tag: 't',
      look_again: null,
      copied: [],
      missing: [],
    },
    ...over,
  } as DefectRow;
};

describe('the other hand of a place', () => {
  it('is the same place across the keel', () => {
    expect(opposite(DEFINITION, place())).toEqual(place({ hand: 'S' }));
    expect(opposite(DEFINITION, place({ hand: 'C' }))).toBeNull();
  });

  it('of a wing is the other wing, and none where there is no such structure', () => {
    const rib = place({ structure: 'Starboard wing', hand: 'S', member: 'R2' });
    expect(opposite(DEFINITION, rib)).toMatchObject({ structure: 'Port wing', hand: 'P' });
    expect(opposite(DEFINITION, place({ structure: 'Port float', member: 'FS 30' }))).toBeNull();
  });

  it('comes by one touch, the centreline after both', () => {
    const hands = ['P', 'S', 'C'] as const;
    for (const [at, hand] of hands.entries())
      expect(nextHand(DEFINITION, place({ hand }))?.hand).toBe(hands[(at + 1) % 3]);
  });
});

describe('here before', () => {
  it('has this hand first, then the mirror, each the nearest first', () => {
    const rows = [
      row({ number: 'A/9003', place: place({ hand: 'S' }), station: '72.5' }),
      row({ number: 'A/9002', station: '75' }),
      row({ number: 'A/9001', station: '73' }),
    ];
    const found = nearby(rows, HULL, place(), 72.5).map((one) => one.number);
    expect(found).toEqual(['A/9001', 'A/9002', 'A/9003']);
    expect(nearby(rows.slice(0, 2), HULL, place(), 72.5).map((one) => one.number)).toEqual([
      'A/9002',
      'A/9003',
    ]);
  });

  it('leaves out what is over 6 in away, two strakes off, or was raised in error', () => {
    const rows = [
      row({ station: '78.6' }),
      row({ place: place({ strakes: ['B3', 'C'] }) }),
      row({ state: 'Raised in error' }),
    ];
    expect(nearby(rows, HULL, place(), 72.5)).toEqual([]);
    expect(nearby([row({ station: '78.5' })], HULL, place(), 72.5)).toHaveLength(1);
  });

  it('counts the strake across the keel as beside it', () => {
    const other = row({ place: place({ hand: 'S', strakes: ['K', 'B1'] }) });
    expect(nearby([other], HULL, place({ strakes: ['B1', 'B2'] }), 72.5)).toHaveLength(1);
  });
});

describe('query same', () => {
  const me = { person: 'me', today: '2025-11-03' };
  const near = (rows: DefectRow[]) => askable(nearby(rows, HULL, place(), 72.5), me)?.number;
  const mine = row({ raised_on: '2025-11-03' });

  it('says of none to ask about whether there is no record at all, or only one of today', () => {
    const own = { number: 'A/0001' } as DefectRow;
    expect(noneWords([], true)).toBe('nothing recorded here');
    expect(noneWords([own], true)).toBe('none but yours\nof today');
    expect(noneWords([], false)).not.toContain('nothing');
  });

  it('never offers what this person has just raised there', () => {
    expect(near([mine])).toBe(undefined);
    expect(near([mine, row({ number: 'B/0003', raised_by: 'other', station: '74.0' })])).toBe(
      'B/0003',
    );
  });

  it('offers one’s own of another day, and what others raised today', () => {
    expect(near([mine, row({ number: 'A/0088', raised_on: '2025-03-08' })])).toBe('A/0088');
    expect(near([row({ number: 'B/0009', raised_by: 'other', raised_on: '2025-11-03' })])).toBe(
      'B/0009',
    );
  });

  it('offers no draft and nothing that is the same as another already', () => {
    expect(near([row({ state: 'Draft' }), row({ state: 'Same as' })])).toBe(undefined);
  });
});

describe('instruments', () => {
  const BOOK = [
    { name: 'PG-04', title: 'pressure gauge', range: '0–2000 psi' },
    { name: 'DG-1', title: 'depth gauge' },
    { name: 'HG-1', title: 'hole gauge set' },
    { name: 'VC-2', title: 'vernier calliper', range: '0–6 in' },
    { name: 'TW-1', title: 'wrench', range: '5–50 lbf ft' },
  ];
  const names = (some: { name: string }[]) => some.map((one) => one.name);

  it('that suit the figure come first, gauges of pressure among the others', () => {
    const { suits, others } = instrumentsFor('depth', BOOK);
    expect(names(suits)).toEqual(['DG-1', 'VC-2']);
    expect(names(others)).toEqual(['HG-1', 'PG-04', 'TW-1']);
    expect(names(instrumentsFor('hole_major', BOOK).suits)).toEqual(['HG-1', 'VC-2']);
  });

  it('picked for the day are those of any length first', () => {
    const { suits, others } = instrumentsFor(undefined, BOOK);
    expect(names(suits)).toEqual(['DG-1', 'HG-1', 'VC-2']);
    expect(names(others)).toEqual(['PG-04', 'TW-1']);
  });
});

describe('move these to the other hand', () => {
  it('offers the last of this person on the hand of the very last, newest first', () => {
    const rows = [
      row({ number: 'D/0001' }),
      row({ number: 'D/0002', raised_by: 'another' }),
      row({ number: 'D/0003', place: place({ hand: 'S' }) }),
      row({ number: 'D/0004', state: 'Draft' }),
      row({ number: 'D/0005', state: 'Assessed' }),
    ];
    const offered = lastOnOneHand(rows, 'me', DEFINITION).map((one) => one.number);
    expect(offered).toEqual(['D/0004', 'D/0001']);
  });
});

describe('what is moved unless it is left out', () => {
  it('is the very last, and what was raised today on this tablet', () => {
    const rows = [
      row({ record: 'r5', number: 'D/0005', raised_on: null }),
      row({ record: 'r4', number: 'D/0004', raised_on: '2025-11-03' }),
      row({ record: 'r3', number: 'D/0003', raised_on: '2025-11-02' }),
      row({ record: 'r2', number: 'A/0025', raised_on: '2025-11-03' }),
    ];
    expect([...leftOut(rows, 'D', '2025-11-03')]).toEqual(['r3', 'r2']);
  });
});

const FRAMES = [{ part: 'frame', material: 'AL', thickness: '0.048' }];

describe('same again', () => {
  it('says of a copied figure whose it is, and names no instrument', () => {
    const depth = { value: '0.011', unit: 'in', method: 'depth gauge', instrument: 'DG-1' };
    expect(asCopied('depth', depth, 'D/0001')).toEqual({
      value: '0.011',
      unit: 'in',
      copied_from: 'D/0001',
    });
    const again = asCopied('depth', asCopied('depth', depth, 'D/0001'), 'D/0002');
    expect(again).toMatchObject({ copied_from: 'D/0001' });
  });

  it('keeps what is no measurement as it is', () => {
    const thickness = { value: '0.064', unit: 'in', method: 'drawing figure' };
    expect(asCopied('thickness', thickness, 'D/0001')).toEqual(thickness);
    expect(asCopied('blistered', true, 'D/0001')).toBe(true);
  });

  it('copies no answer that was no figure, and a measured thickness as a hint', () => {
    expect(asCopied('length', 'not measured', 'D/0001')).toBe(null);
    const worn = { value: '0.058', unit: 'in', instrument: 'UT-1' };
    expect(asCopied('thickness', worn, 'D/0001')).toMatchObject({ copied_from: 'D/0001' });
  });

  it('takes what a look says, hints, and the part as it is drawn at the next place', async () => {
    const values: Record<string, Json> = {
      ...{ kind: 'pitting', blistered: true, part: 'frame F6', cleaned: 'yes', run: 3 },
      thickness: { value: '0.040', unit: 'in', instrument: 'UT-1' },
      depth: { value: '0.012', unit: 'in', instrument: 'DG-1', method: 'depth gauge' },
      width: 'not measured',
    };
    const shop = { book: { plain: async () => values } } as unknown as Shop;
    const drawn = { ...DEFINITION, structures: [{ ...DEFINITION.structures[0], parts: FRAMES }] };
    const from = row({ number: 'D/0001', place: place({ member: 'F6' }) });
    const next = place({ member: 'F7' });
    expect(await copied(shop, from, drawn as unknown as Definition, next)).toEqual({
      ...{ kind: 'pitting', blistered: true, part: 'frame F7', material: 'AL' },
      thickness: { value: '0.048', unit: 'in', method: 'drawing figure' },
      depth: { value: '0.012', unit: 'in', copied_from: 'D/0001' },
    });
  });
});

describe('look again', () => {
  it('lists what is asked, nose to tail, with its question', () => {
    const rows = [
      row({
        number: 'A/0009',
        station: '132',
        look_again: { tablet: 'A', ask: 'length along, in 0.01' },
      }),
      row({ number: 'A/0002', station: '72', look_again: {} }),
      row({ number: 'A/0003', look_again: null }),
    ];
    const asked = toLookAgain(rows);
    expect(asked.map((one) => [one.number, questionOf(one)])).toEqual([
      ['A/0002', 'look again'],
      ['A/0009', 'length along, in 0.01'],
    ]);
    expect(toLookAgain(rows, 'A')).toHaveLength(2);
    expect(toLookAgain(rows, 'B').map((one) => one.number)).toEqual(['A/0002']);
  });
});

describe('still to finish', () => {
  it('names what a record lacks', () => {
    expect(lacking(row())).toEqual([]);
    expect(lacking(row({ photographs: 1, tag: null }))).toEqual(['no close picture', 'no tag']);
    expect(lacking(row({ photographs: 0, kind: null }))).toEqual(['no picture', 'no kind']);
    expect(lacking(row({ grade_known: false }))).toEqual(['figures']);
    expect(lacking(row({ copied: ['length'] }))).toEqual(['figures']);
    const open = { grade_known: false, missing: ['reaches_edge', 'joins_holes'] };
    expect(lacking(row(open))).toEqual(['reaches an edge', 'joins two holes']);
    expect(lacking(row({ ...open, missing: ['depth', 'joins_holes'] }))).toEqual([
      'figures',
      'joins two holes',
    ]);
  });

  it('lists every draft, and of what is raised only one’s own that lacks something', () => {
    const rows = [
      row({ number: 'D/0002', state: 'Draft', raised_by: 'another' }),
      row({ number: 'D/0001', photographs: 0 }),
      row({ number: 'D/0003', photographs: 0, raised_by: 'another' }),
      row({ number: 'D/0004' }),
    ];
    expect(toFinish(rows, 'me').map((one) => one.number)).toEqual(['D/0001', 'D/0002']);
  });
});

describe('words', () => {
  const next = { kind: 'defect', fields: ['depth'], move: null, at_ms: 1 };

  it('say what UNDO takes back, with its number where it is not on the sheet', () => {
    const rows = [row({ record: 'd1', number: 'D/0007' })];
    expect(stepWords({ ...next, records: ['d1'] }, rows)).toBe('D/0007\ndepth');
    expect(stepWords({ ...next, records: ['d1'] }, rows, 'd1')).toBe('depth');
    expect(stepWords({ ...next, fields: ['place'], records: ['d1', 'd2'] }, rows)).toBe(
      'place of 2',
    );
    expect(stepWords({ ...next, kind: 'coverage', records: ['c1'] }, rows)).toBe('the bay');
  });

  it('say of an instrument whether its check is in date, on its last day too', () => {
    expect(dueWords('2026-05-31', '2026-05-31')).toBe('in date to 2026-05-31');
    expect(dueWords('2025-09-30', '2025-10-01')).toBe('OUT OF DATE since 2025-09-30');
    expect(dueWords('', '2025-10-01')).toBe('no check date');
  });

  it('number the next survey after the highest', () => {
    expect(nextTitle(['SV-2', 'SV-10', 'fin, again'])).toBe('SV-11');
    expect(nextTitle([])).toBe('SV-1');
  });

  it('read a tag out with what its last character is', () => {
    expect(tagWords('2603B0017O')).toEqual({ written: '2603 B 0017 – O', check: '(letter)' });
    expect(tagWords('2603A00027')).toEqual({ written: '2603 A 0002 – 7', check: '(figure)' });
  });

  it('keep K–B1 and F6 + 2.0 in one piece', () => {
    const kept = unbroken('Hull · F6 + 2.0 aft · K–B1');
    expect(kept).toBe('Hull · F6\u00a0+\u00a02.0 aft · K\u2060–\u2060B1');
    expect(unbroken('LOOKED AT – NOTHING')).toBe('LOOKED AT – NOTHING');
  });
});

import { describe, expect, it } from 'vitest';
import type { Definition, Place } from '../../../frontend/src/domain/place';
import { foundIn, signedFor } from '../../../frontend/src/screens/airframe/bay';
import { keyWords } from '../../../frontend/src/screens/airframe/looked_key';
import { movedWords } from '../../../frontend/src/screens/airframe/more_keys';
import { askable, nearby, whereWords } from '../../../frontend/src/screens/airframe/nearby';
import { placeAtStation, positionCells } from '../../../frontend/src/screens/airframe/place_cells';
import { oneBayOn } from '../../../frontend/src/screens/airframe/same_again';
import { openDraft, toFinish } from '../../../frontend/src/screens/airframe/still_to_finish';
import { reachOf, wholeBay } from '../../../frontend/src/screens/airframe/whole_bay';
import type { DefectRow } from '../../../frontend/src/services/shop';

const member = (name: string, station: string) => ({ name, kind: 'frame', station });
const HULL = {
  ...{ name: 'Hull', hands: ['P', 'S'], strakes: ['K', 'B1', 'B2', 'B3', 'C'], axis: 'Sta' },
  ...{ unit: 'in', datum: '', positive: 'aft', faces: [], plating: [] },
  members: [member('F5', '57'), member('F6', '70'), member('F7', '83'), member('F8', '93.5')],
} as unknown as Definition['structures'][number];
const DEFINITION = {
  name: 'Marram',
  ...{ unit: 'in', zones: [], views: [], structures: [HULL] },
} as unknown as Definition;

const place = (over: Partial<Place> = {}): Place => ({
  ...{ structure: 'Hull', hand: 'P', member: 'F5', strakes: ['B1', 'B2'] },
  offset: { value: '0', unit: 'in' },
  ...over,
});
const BAY = wholeBay(HULL, place());

const row = (number: string, station: string, over: Partial<DefectRow> = {}): DefectRow =>
  ({
    ...{ record: number, number, station, structure: 'Hull', hand: 'P', member: 'F5' },
    ...{
      state: 'Raised',
      kind: 'pitting',
      grade_known: true,
      photographs: 2,
      tag: 't',
      copied: [],
    },
    ...{ raised_by: 'other', place: place({ offset: { value: '6.5', unit: 'in' } }) },
    ...over,
  }) as unknown as DefectRow;

describe('a place set by its bay', () => {
  it('is stored as the middle of the bay, known to half a bay', () => {
    expect(BAY).toMatchObject({ offset: { value: '6.5', unit: 'in' }, precision: 'bay only' });
    expect(wholeBay(HULL, place({ member: 'F7' })).offset.value).toBe('5.25');
    expect(reachOf(HULL, BAY, 63.5)).toEqual([57, 70]);
  });

  it('is the member itself at the last one, which has no bay', () => {
    const last = wholeBay(HULL, place({ member: 'F8' }));
    expect(last).toMatchObject({ offset: { value: '0', unit: 'in' }, precision: 'exact' });
  });

  it('is no longer bay only where a station was touched', () => {
    const touched = placeAtStation(HULL, BAY, 72, {});
    expect(touched).toMatchObject({ member: 'F6', offset: { value: '2' }, precision: 'exact' });
    expect(reachOf(HULL, touched, 72)).toEqual([72, 72]);
  });

  it('says that inches can be typed, and names the bay', () => {
    const cells = positionCells(
      { definition: DEFINITION, structure: HULL, place: BAY },
      null,
      () => undefined,
      () => undefined,
    );
    const along = cells.find((cell) => cell.caption.includes('zone'));
    expect(along).toMatchObject({ value: 'F5–F6', caption: 'Type + in aft · zone none' });
  });

  it('goes one bay on as a bay, a typed distance as it was typed', () => {
    expect(oneBayOn(DEFINITION, wholeBay(HULL, place({ member: 'F6' })))).toMatchObject({
      ...{ member: 'F7', offset: { value: '5.25' }, precision: 'bay only' },
    });
    const typed = place({ offset: { value: '2', unit: 'in' }, precision: 'exact' });
    expect(oneBayOn(DEFINITION, typed)).toMatchObject({ member: 'F6', offset: { value: '2' } });
  });
});

describe('what is recorded in the framed bay', () => {
  const rows = [
    row('A/0001', '69.5', { state: 'Cleared' }),
    row('A/0002', '63', { state: 'Cleared' }),
    row('A/0003', '75.5'),
    row('A/0004', '76.5'),
    row('A/0005', '50.5'),
    row('A/0006', '51'),
    row('A/0007', '63', { state: 'Raised in error' }),
  ];

  it('is all of it and what lies within 6 in round it, cleared too, the nearest first', () => {
    const found = nearby(rows, HULL, BAY, 63.5).map((one) => one.number);
    expect(found).toEqual(['A/0002', 'A/0001', 'A/0003', 'A/0006']);
  });

  it('can be queried to be the same', () => {
    const near = nearby(rows, HULL, BAY, 63.5);
    expect(askable(near, { person: 'me', today: '2025-11-03' })?.number).toBe('A/0002');
  });

  it('is said to lie in this bay, or where in it', () => {
    expect(whereWords(row('A/0001', '63.5'), BAY, 63.5, 'in')).toBe('Port, F5 + 6.5');
    expect(whereWords(row('A/0001', '63.5', { place: BAY }), BAY, 63.5, 'in')).toBe(
      'Port, this bay',
    );
  });
});

describe('LOOKED AT', () => {
  const bay = {
    ...{ structure: 'Hull', hand: 'P' },
    bay: ['F5', 'F6'] as [string, string],
    strakes: ['K', 'C'] as [string, string],
  };

  it('says more found where a record lies in the bay, a cleared one too', () => {
    const cleared = [row('A/0001', '63.5', { state: 'Cleared' })];
    expect(foundIn(bay, cleared, DEFINITION)).toHaveLength(1);
    expect(foundIn(bay, [row('A/0001', '70')], DEFINITION)).toHaveLength(0);
    expect(keyWords(bay, true)).toContain('NOTHING MORE FOUND');
    expect(keyWords(bay, false)).toContain('NOTHING FOUND');
  });

  it('names on the key every strake it is signed for, and they are drawn', () => {
    expect(keyWords(bay, false)).toContain('F5–F6 PORT, ALL K–C');
    expect(signedFor(HULL, bay)).toEqual({ from: 57, to: 70, low: 0, high: 4 });
    expect(signedFor(HULL, { ...bay, hand: 'S' })).toEqual({ from: 57, to: 70, low: -4, high: 0 });
  });
});

describe('what is left open', () => {
  const rows = [
    row('A/0001', '63', { state: 'Draft', raised_by: 'other' }),
    row('D/0001', '63', { state: 'Raised', raised_by: 'me', tag: null }),
    row('D/0002', '63', { state: 'Draft', raised_by: 'me' }),
    row('B/0002', '63', { state: 'Draft', raised_by: 'me' }),
  ];

  it('is one’s own drafts first, then one’s own records, then the drafts of others', () => {
    expect(toFinish(rows, 'me').map((one) => one.number)).toEqual([
      ...['B/0002', 'D/0002', 'D/0001', 'A/0001'],
    ]);
  });

  it('is gone on with where this person began it on this tablet', () => {
    expect(openDraft(rows, 'me', 'D')?.number).toBe('D/0002');
    expect(openDraft(rows, 'someone', 'D')).toBe(undefined);
    expect(openDraft(rows, 'me', 'E')).toBe(undefined);
  });
});

it('names the records that would be moved to the other hand, and where they are now', () => {
  expect(movedWords([row('D/0003', '63', { hand: 'S' }), row('D/0002', '63')])).toBe(
    'D/0003 and 1 more,\nnow starboard',
  );
});

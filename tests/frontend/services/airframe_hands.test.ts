import { describe, expect, it } from 'vitest';
import {
  otherHandOf,
  otherHandWords,
  otherHandZones,
  withOtherHand,
} from '../../../frontend/src/services/airframe_hands';
import { BLANK_STRUCTURE, type Row } from '../../../frontend/src/services/airframe_rows';

const members = [
  { name: 'F1', station: '0' },
  { name: 'F2', station: '100.5' },
];
const hull = { ...BLANK_STRUCTURE, name: 'Hull', members, strakes: 'K, B1' };
const wing = { ...BLANK_STRUCTURE, name: 'Port wing', hands: 'P', members };

describe('other hands', () => {
  it.each([
    ['Port wing', 'Starboard wing'],
    ['Float, starboard', 'Float, port'],
    ['PORT SIDE', 'STARBOARD SIDE'],
    ['Portal', 'Portal'],
  ])('turn “%s” into “%s”', (text, other) => expect(otherHandWords(text)).toBe(other));

  it('make the other wing, and nothing of a hull', () => {
    expect(otherHandOf(wing)).toMatchObject({
      ...{ name: 'Starboard wing', hands: 'S', members },
    });
    expect(otherHandOf(hull)).toBeNull();
  });

  const row = { zone: '111', title: 'Bow, port', hand: 'port', structure: 'Hull', low: 'K' };
  const beside = (one: Row, zones: Row[] = [one], hands = ['P', 'S', 'C']) =>
    otherHandZones(one, zones, hands);
  const numbers = ({ offered }: { offered: Row[] }) => offered.map(({ zone }) => zone);

  it('number zones as is usual: odd port, even starboard, 0 centreline', () => {
    expect(beside(row)).toEqual({
      offered: [
        { ...row, zone: '112', title: 'Bow, starboard', hand: 'S' },
        { ...row, zone: '110', title: 'Bow, centreline', hand: 'C' },
      ],
      said: [],
    });
    expect(numbers(beside({ ...row, zone: '112', hand: 'S' }))).toEqual(['111', '110']);
    expect(beside({ ...row, hand: '' })).toEqual({ offered: [], said: [] });
  });

  it('of the second pair of a ten leave the first its number', () => {
    const aft = { ...row, zone: '113', title: 'Aft, port', from: 'F6' };
    expect(numbers(beside(aft, [row, aft]))).toEqual(['114', '110']);
    expect(numbers(beside(row, [row, aft]))).toEqual(['112', '110']);
  });

  it('name each hand that is not written, and why', () => {
    const aft = { ...row, zone: '113', from: 'F6' };
    const centre = { zone: '110', title: 'Keel', hand: 'C', structure: 'Hull' };
    const taken = beside(aft, [row, aft, centre]);
    expect(numbers(taken)).toEqual(['114']);
    expect(taken.said).toEqual([
      'no number for centreline: 110 is “centreline, Keel”; write it by hand',
    ]);
    const other = { ...row, zone: '112', title: 'Bow', hand: 'S' };
    expect(beside(row, [row, other])).toMatchObject({
      offered: [{ zone: '110' }],
      said: ['starboard is here as 112'],
    });
    const wrong = { ...other, hand: 'C', from: 'F6' };
    expect(beside(row, [row, wrong]).said).toEqual([
      'no number for starboard: 112 is “centreline, Bow”; write it by hand',
    ]);
    expect(beside({ ...row, zone: '119' }).said[0]).toContain('no number beside 119');
  });

  it('are those of the structure alone, and none of a number that is wrong for its hand', () => {
    expect(numbers(beside(row, [row], ['P', 'S']))).toEqual(['112']);
    expect(beside(row, [row], ['P'])).toEqual({ offered: [], said: [] });
    const even = beside({ ...row, zone: '112' });
    expect(even).toEqual({ offered: [], said: ['112 is port and has not an odd number'] });
  });
});

describe('the same for the other hand', () => {
  const empty = { ...wing, members: [] };
  const written = withOtherHand([hull, empty], 1)?.structures ?? [];

  it('writes the other structure, and its members when they are there', () => {
    expect(written.at(-1)).toMatchObject({ name: 'Starboard wing', hands: 'S', members: [] });
    const later = withOtherHand(
      [hull, wing, { ...(written.at(-1) ?? wing), datum: 'root rib' }],
      1,
    );
    expect(later).toMatchObject({ name: 'Starboard wing', replaced: 0 });
    expect(later?.structures[2]).toMatchObject({ members, hands: 'S', datum: 'root rib' });
    expect(later?.structures.slice(0, 2)).toEqual([hull, wing]);
  });

  it('says how many members it replaces, and nothing where the same stands', () => {
    const other = { ...wing, name: 'Starboard wing', hands: 'S' };
    expect(withOtherHand([wing, other], 0)).toBeNull();
    expect(withOtherHand([wing, { ...other, members: members.slice(1) }], 0)?.replaced).toBe(1);
    expect(withOtherHand([hull], 0)).toBeNull();
  });
});

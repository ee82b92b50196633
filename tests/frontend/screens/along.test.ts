import { describe, expect, it } from 'vitest';
import { Along } from '../../../frontend/src/screens/airframe/along';
import type { DefectRow } from '../../../frontend/src/services/shop';

const row = (number: string, station: string | null, structure = 'Hull') =>
  ({ record: number, number, station, structure }) as DefectRow;

describe('rows along a structure', () => {
  it('finds what lies between two stations, ends included, in the order of the book', () => {
    const rows = [
      row('A/0001', '90'),
      row('A/0002', '70'),
      row('A/0003', '80.5'),
      row('A/0004', null),
      row('A/0005', '80', 'Port wing'),
      row('A/0006', '90'),
      row('A/0007', '90.1'),
    ];
    const between = (from: number, to: number) =>
      new Along(rows, 'Hull').between(from, to).map((one) => one.number);
    expect(between(70, 90)).toEqual(['A/0001', 'A/0002', 'A/0003', 'A/0006']);
    expect(between(80, 80.4)).toEqual([]);
    expect(between(Number.NaN, Number.NaN)).toEqual([]);
  });

  it('finds what begins before a station and reaches on', () => {
    const to = { member: 'F9' };
    const long = (number: string, station: string) =>
      ({ ...row(number, station), place: { to } }) as unknown as DefectRow;
    const rows = [long('A/1', '80'), row('A/2', '10'), long('A/3', '20'), long('A/4', '50')];
    const found = (at: number) => new Along(rows, 'Hull').before(at).map((one) => one.number);
    expect(found(50)).toEqual(['A/3']);
    expect(found(80.1)).toEqual(['A/3', 'A/4', 'A/1']);
    expect(new Along(rows, 'Port wing').before(99)).toEqual([]);
  });

  it('finds the same as looking at every row', () => {
    let seed = 17;
    const chance = () => {
      seed = (seed * 16807) % 2147483647;
      return seed / 2147483647;
    };
    const rows = Array.from({ length: 400 }, (_, at) =>
      row(`A/${at}`, String(Math.round(chance() * 200) / 10)),
    );
    const along = new Along(rows, 'Hull');
    for (let tries = 0; tries < 50; tries += 1) {
      const from = Math.round(chance() * 200) / 10;
      const to = from + Math.round(chance() * 50) / 10;
      const all = rows.filter((one) => Number(one.station) >= from && Number(one.station) <= to);
      expect(along.between(from, to), `seed 17, try ${tries}`).toEqual(all);
    }
  });
});

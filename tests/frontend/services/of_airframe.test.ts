import { describe, expect, it } from 'vitest';
import {
  isHere,
  looksHere,
  surveysHere,
  zonesByHand,
} from '../../../frontend/src/services/of_airframe';

const records: Record<string, { record: string; airframe?: string; survey?: string }[]> = {
  survey: [
    { record: 's1', airframe: 'a' },
    { record: 's2', airframe: 'b' },
  ],
  coverage: [{ record: '1', survey: 's1' }, { record: '2', survey: 's2' }, { record: '3' }],
};
const shop = {
  airframe: { record: 'a', type: '', constructor_number: '' },
  book: { records: async (kind: string) => records[kind] ?? [] },
} as never;

describe('what belongs to the airframe shown', () => {
  it('are the looks of its surveys, and those of no survey', async () => {
    expect((await looksHere(shop)).map(({ record }) => record)).toEqual(['1', '3']);
    expect((await surveysHere(shop)).map(({ record }) => record)).toEqual(['s1']);
  });

  it('is a record that names it, or names none', () => {
    expect([{ airframe: 'a' }, { airframe: 'b' }, {}].map((one) => isHere(shop, one))).toEqual([
      ...[true, false, true],
    ]);
  });

  it('are its zones, one of any hand as one of each hand that is drawn', () => {
    const zone = { zone: '300', title: '', structure: 'Hull' };
    const hull = { hands: ['P', 'S', 'C'] } as never;
    expect(zonesByHand(zone, hull).map(({ hand }) => hand)).toEqual(['P', 'S']);
    expect(zonesByHand({ ...zone, hand: 'S' }, hull)).toEqual([{ ...zone, hand: 'S' }]);
    expect(zonesByHand(zone, { hands: ['C'] } as never)).toEqual([zone]);
  });
});

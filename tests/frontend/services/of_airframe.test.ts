import { describe, expect, it } from 'vitest';
import { isHere, looksHere, surveysHere } from '../../../frontend/src/services/of_airframe';

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
});

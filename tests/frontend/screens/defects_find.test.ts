import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bookAddress } from '../../../frontend/src/screens/defects/address';
import {
  chosenFilters,
  filterGroups,
  toggled,
} from '../../../frontend/src/screens/defects/find_words';
import {
  drawnRows,
  rowAt,
  scrollTo,
  topsOf,
} from '../../../frontend/src/screens/defects/list_window';
import type { DefectRow } from '../../../frontend/src/services/shop';

const row = (given: Partial<DefectRow>) =>
  ({ stage: null, zones: [], kind: null, ...given }) as unknown as DefectRow;
const GROUPS = filterGroups(
  [
    row({ stage: 'Stage 10', zones: ['122'], kind: 'surface corrosion' }),
    row({ stage: 'Stage 2', zones: ['111', '122'], kind: 'pitting' }),
  ],
  'Lead',
);
const filter = (label: string) =>
  GROUPS.flatMap(({ filters }) => filters).find((one) => one.label === label) as {
    label: string;
    words: string;
  };

describe('filter keys', () => {
  it('are those that the book has a use for, in their natural order', () => {
    const labels = (title: string) =>
      GROUPS.find((one) => one.title === title)?.filters.map((one) => one.label);
    expect(labels('Stage')).toEqual(['Stage 2', 'Stage 10']);
    expect(labels('Zone')).toEqual(['111', '122']);
    expect(labels('Kind')).toEqual(['Pitting', 'Surface corrosion']);
    expect(labels('Asked')).toEqual(['Two values', 'Mine']);
  });

  it('write words, take the place of their group, and take themselves out', () => {
    const words = toggled('hull bottom', filter('Raised'), GROUPS);
    expect(words).toBe('hull bottom raised');
    expect(toggled(words, filter('Raised in error'), GROUPS)).toBe('hull bottom raised in error');
    expect(toggled('raised in error hull', filter('Raised in error'), GROUPS)).toBe('hull');
    expect(toggled('open stage 2', filter('Stage 10'), GROUPS)).toBe('open stage 10');
    expect(toggled('"in work" open', filter('In work'), GROUPS)).toBe('"in work" in work');
  });

  it('are shown as chosen by what stands in the line, the longest first', () => {
    const chosen = chosenFilters('raised in error Zone 122 two values x', GROUPS);
    expect(chosen.map((one) => one.label)).toEqual(['Raised in error', '122', 'Two values']);
  });

  it('pressed twice leave the line as it was', () => {
    const all = GROUPS.flatMap(({ filters }) => filters);
    fc.assert(
      fc.property(
        fc.constantFrom(...all),
        fc.array(fc.constantFrom('hull', 'F11', '"in work"', 'bilge'), { maxLength: 4 }),
        (one, words) => {
          const line = words.join(' ');
          expect(toggled(toggled(line, one, GROUPS), one, GROUPS)).toBe(line);
        },
      ),
    );
  });
});

describe('the address of the book', () => {
  it('holds record, words and list, and nothing that is empty', () => {
    expect(bookAddress('A0002', { find: 'K–B1 port', list: undefined })).toBe(
      '/defects/A0002?find=K%E2%80%93B1+port',
    );
    expect(bookAddress(undefined, { find: '  ', list: 'kind.pitting' })).toBe(
      '/defects?list=kind.pitting',
    );
    expect(bookAddress(undefined, {})).toBe('/defects');
  });
});

describe('a list of thousands', () => {
  const tops = topsOf(Array.from({ length: 5000 }, (_, at) => (at % 7 === 3 ? 83 : 63)));

  it('draws what is in sight and little more, wherever it is scrolled to', () => {
    fc.assert(
      fc.property(fc.nat(tops.at(-1) as number), fc.integer({ min: 100, max: 900 }), (at, high) => {
        const { from, to, above, below } = drawnRows(tops, at, high);
        expect(to - from).toBeLessThan(high / 63 + 20);
        expect(above).toBe(tops[from]);
        expect(above + below + ((tops[to] as number) - (tops[from] as number))).toBe(tops.at(-1));
        expect(tops[from] as number).toBeLessThanOrEqual(at);
        expect(tops[to] as number).toBeGreaterThanOrEqual(
          Math.min(at + high, tops.at(-1) as number),
        );
      }),
    );
  });

  it('knows the row at a height, and scrolls no further than to bring a row in sight', () => {
    expect([rowAt(tops, 0), rowAt(tops, 62), rowAt(tops, 63)]).toEqual([0, 0, 1]);
    expect(rowAt(topsOf([]), 10)).toBe(0);
    expect(scrollTo(tops, 2, 0, 500)).toBeNull();
    expect(scrollTo(tops, 2, 300, 500)).toBe(126);
    expect(scrollTo(tops, 20, 0, 500)).toBe((tops[21] as number) - 500);
  });
});

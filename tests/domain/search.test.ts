import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Definition } from '../../frontend/src/domain/place';
import { search } from '../../frontend/src/domain/search';
import type { SearchRow } from '../../frontend/src/domain/search_rows';
import definition from '../../sample_data/skinpin_demo/data/definition_2603.json';
import demo from '../vectors/demo_rows.json';
import find from '../vectors/find.json';
import vectors from '../vectors/search.json';

const places = definition as unknown as Definition;
const rows = demo.rows as unknown as SearchRow[];
const odd = vectors.odd.map((row) => ({ ...vectors.base, ...row })) as unknown as (SearchRow & {
  record: string;
})[];
const numbers = (words: string) =>
  search(rows, words, places, demo.people).map((row) => row.number);

describe('search', () => {
  it('a phone call is answered', () => {
    expect(numbers('F11 P crack')).toEqual(['A/0009']);
  });

  it.each(vectors.cases)('words find what the server finds: $words', (row) => {
    expect(numbers(row.words)).toEqual(row.numbers);
  });

  it.each(find.cases)('the list finds what the server finds: $words', (row) => {
    expect(numbers(row.words)).toEqual(row.numbers);
  });

  it.each(vectors.bare)('without a definition place words are words: $words', (row) => {
    expect(search(rows, row.words).map((one) => one.number)).toEqual(row.numbers);
  });

  it.each(vectors.odd_cases)('rows that hold anything are searched: $words', (row) => {
    expect(search(odd, row.words, places).map((one) => one.record)).toEqual(row.records);
  });

  it('terms are joined with and', () => {
    const term = fc.constantFrom('"F11"', 'port', 'pitting', '>=3', '122', 'open', 'F10-F13');
    fc.assert(
      fc.property(fc.array(term, { minLength: 1, maxLength: 4 }), (terms) => {
        const alone = terms.map((one) => numbers(one));
        const both = numbers('').filter((one) => alone.every((some) => some.includes(one)));
        expect(numbers(terms.join(' '))).toEqual(both);
      }),
    );
  });

  it('whatever is typed finds some of the rows in their order', () => {
    const piece = fc.oneof(
      fc.constantFrom('F11', '12A', '-', '..', '"', 'grade', '>=', '3', 'stage', 'A/', '0009', ' '),
      fc.string({ unit: 'binary', maxLength: 3 }),
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 10 }), (pieces) => {
        const all = [...rows, ...odd];
        const found = search(all, pieces.join(''), places, demo.people);
        expect(found).toEqual(all.filter((row) => found.includes(row)));
      }),
    );
  });
});

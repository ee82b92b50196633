/** Search in place words: terms joined with *and*, over the rows that are at hand. */

import type { Definition } from './place';
import { type SearchRow, Sought } from './search_rows';
import { Vocabulary } from './search_terms';

/** The rows that all terms of the words hold of, in the order given.

Terms: a number (A/0009, A9) or tag, a member (F11, 12A) or members (F10-F13), strakes (K-B1), a hand (P,
port, left), a zone (122), a kind or group of kinds, a grade (>=3, G2, crack 2), a state or *open*, *two
values*, a stage (Stage 3), a person of `people` (names by record), a day, month, year or range of them
(2025-03..2025-06). Anything else is looked for at the beginning of words; "quoted words" are only
looked for. What was raised in error shows only where it is asked for, by its state or its number. */
export function search<Row extends SearchRow>(
  rows: readonly Row[],
  words: string,
  definition: Definition | null = null,
  people: Readonly<Record<string, string>> = {},
): Row[] {
  const terms = new Vocabulary(definition, people).terms(words);
  const asksError = terms.some((term) => term.asks_error);
  return rows.filter((row) => {
    if (row.state === 'Raised in error' && !asksError) return false;
    const sought = soughtOf(row, definition);
    return terms.every((term) => term.holds(sought));
  });
}

const kept = new WeakMap<SearchRow, Sought>();

// The same rows are searched at every key.
function soughtOf(row: SearchRow, definition: Definition | null): Sought {
  const found = kept.get(row);
  if (found?.definition === definition) return found;
  const made = new Sought(row, definition);
  kept.set(row, made);
  return made;
}

// The kind of a record, by the shared vectors.

import { makeEntry } from '@sync/entry';
import { describe, expect, it } from 'vitest';
import { recordKind } from '../../frontend/src/domain/fields';
import vectors from '../vectors/record_kind.json';

type Row = (typeof vectors.cases)[number]['entries'][number];

function pairOf(row: Row, at: number) {
  const entry = makeEntry({
    id: `174140000000${at}-0000-writerx1`,
    n: 1,
    act: { id: `act-${at}`, of: 1 },
    record: 'X',
    kind: row.kind,
    set: row.set,
    by: 'P',
    device: 'A',
    wall: '2025-11-03T08:15:30+00:00',
    schema: 1,
  });
  const counts = row.counts as boolean | string[];
  return [entry, typeof counts === 'boolean' ? counts : new Set(counts)] as const;
}

describe('recordKind', () => {
  it.each(vectors.cases)('$name', ({ entries, kind }) => {
    const pairs = entries.map(pairOf);
    expect(recordKind(pairs)).toBe(kind);
    expect(recordKind([...pairs].reverse())).toBe(kind);
  });
});

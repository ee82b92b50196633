// The list a stamp is made over, and which stamps hold.

import { describe, expect, it } from 'vitest';
import {
  holding,
  listFile,
  type Stamp,
  stampedIds,
  stampList,
} from '../../frontend/src/domain/stamps';

const NOW = { count: 2, sha256: 'ab'.repeat(32) };
const OLD = { count: 1, sha256: 'cd'.repeat(32) };
const stamp = (id: string, act: string, person: string, more: Partial<Stamp> = {}): Stamp => ({
  ...{ id, act, person, number: '11', date: '2025-06-21', list: NOW, names: new Set(), why: null },
  ...more,
});
const relying = (...names: string[]) => ({ names: new Set(names) });
const ids = (stamps: Stamp[]) => stamps.map((one) => one.id);

describe('a list', () => {
  it('is its ids in order, one a line, each once', () => {
    expect(listFile(['b2', 'a1', 'b2'])).toBe('a1\nb2\n');
    expect(stampList(['b2', 'a1', 'b2'], (text) => `hash of ${text.length}`)).toEqual({
      count: 2,
      sha256: 'hash of 6',
    });
  });

  it('that is empty is the hash of nothing', () => {
    // FIPS 180-4, the empty message.
    const empty = 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855';
    expect(stampList([])).toEqual({ count: 0, sha256: empty });
  });

  it('holds only what stands in stamped fields', () => {
    const values = { e1: { number: 'A/0001', state: {} }, e2: { depth: null }, e3: { tag: 't' } };
    expect(stampedIds('defect', values)).toEqual(new Set(['e2']));
    expect(stampedIds('bracket', { e6: { depth: 1 } })).toEqual(new Set());
  });
});

describe('a stamp', () => {
  const first = stamp('s1', 'INSPECTED', 'ben');

  it('over another list or of a doer does not hold', () => {
    expect(holding([stamp('s1', 'INSPECTED', 'ben', { list: OLD })], NOW)).toEqual([]);
    expect(holding([first], NOW, false, new Set(['ben']))).toEqual([]);
    expect(holding([stamp('s1', 'INSPECTED', 'ben', { list: null })], NOW)).toEqual([]);
  });

  it.each([
    stamp('s2', 'INDEPENDENT', 'cay'),
    stamp('s2', 'INDEPENDENT', 'ben', relying('s1')),
    stamp('s2', 'INSPECTED', 'cay', relying('s1')),
    stamp('s2', 'RE-INSPECTED', 'ben', relying('s1')),
    stamp('s2', 'INDEPENDENT', 'cay', { ...relying('s1'), list: OLD }),
  ])('that is second relies on the first and is of another person: %o', (second) => {
    expect(holding([first, second], NOW, true)).toEqual([]);
  });

  it('of the same person is second with its reason', () => {
    const again = stamp('s2', 'RE-INSPECTED', 'ben', { ...relying('s1'), why: 'second one ill' });
    expect(ids(holding([first, again], NOW, true))).toEqual(['s1', 's2']);
  });

  it('leads with the smallest ids, the others follow', () => {
    const stamps = [
      stamp('s4', 'INDEPENDENT', 'dot', relying('s2')),
      stamp('s2', 'INSPECTED', 'cay'),
      stamp('s3', 'INDEPENDENT', 'dot', relying('s1')),
      first,
    ];
    expect(ids(holding(stamps, NOW, true))).toEqual(['s1', 's3', 's2', 's4']);
  });
});

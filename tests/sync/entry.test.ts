import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonical, RefusedLine, sha256Hex } from '../../sync/typescript/canonical.ts';
import {
  type EntryFields,
  fromLine,
  makeEntry,
  signedBytes,
  toLine,
} from '../../sync/typescript/entry.ts';
import vectors from '../../sync/vectors/entry.json';

const RUNS = { numRuns: 300 };
const SEEN_ID = '1762157730249-ffff-zzzzzzzz';
const BASE = JSON.parse(vectors.accepted[0]?.line ?? '') as EntryFields;
const sha256 = (text: string) => sha256Hex(text, crypto.subtle);
const codeOf = (line: string): string => {
  try {
    return toLine(fromLine(line));
  } catch (cause) {
    if (cause instanceof RefusedLine && cause.message.endsWith('.')) return cause.code;
    throw cause;
  }
};

describe('entry', () => {
  it.each(vectors.accepted)('survives byte for byte: $what', async ({ line, sha256: hex }) => {
    expect(toLine(fromLine(line))).toBe(line);
    expect(await sha256(toLine(fromLine(line)))).toBe(hex);
  });

  it.each(vectors.refused)('is refused: $what', ({ line, code }) => {
    expect(codeOf(line)).toBe(code);
  });

  it.each(vectors.sizes)('has at most 65,536 bytes: $what', ({ letter, times, code }) => {
    const [head, tail] = vectors.size_line;
    const line = `${head}${letter.repeat(times)}${tail}`;
    expect(codeOf(line)).toBe(code ?? line);
  });

  it('tells an author who errs at once', () => {
    expect(() => makeEntry({ ...BASE, wall: '2025' })).toThrow('\'wall\' is "2025"');
    expect(() => makeEntry({ ...BASE, set: { length: 1.5 } })).toThrow('1.5 is neither');
  });

  it('is empty where the line leaves out', () => {
    const entry = fromLine(canonical(BASE));
    expect(entry).toEqual({
      ...BASE,
      ...{ prev: null, seen: {}, relies: [], why: null, sig: null, more: {} },
    });
    expect(toLine(entry)).not.toContain('seen');
  });

  it('signs the line without its signature', async () => {
    const bare = makeEntry(BASE);
    const signed = { ...bare, sig: { key: SEEN_ID, value: 'A'.repeat(86) } };
    expect(signedBytes(signed)).toBe(toLine(bare));
    expect(toLine(signed)).not.toBe(toLine(bare));
  });
});

const name = fc
  .array(fc.constantFrom('a', 'Z', '~', '!'), { minLength: 1, maxLength: 3 })
  .map((parts) => parts.join(''));
const plain = fc.constantFrom<unknown>(null, -2, 0, 7, '', 'é', '\u{1f529}', '\n', [], {}, [[1]]);
const fields = fc.dictionary(name, plain, { maxKeys: 3, noNullPrototype: true });

it('keeps unknown kinds and fields byte for byte', () => {
  fc.assert(
    fc.property(name, fields, fields, (kind, set, more) => {
      const line = canonical({ ...more, ...BASE, kind, set });
      const entry = fromLine(line);
      expect([entry.set, entry.more]).toEqual([set, more]);
      expect(toLine(entry)).toBe(line);
    }),
    RUNS,
  );
});

it('takes any value in any place whole, or refuses it', () => {
  const place = fc.constantFrom(...Object.keys(BASE), 'prev', 'seen', 'relies', 'why', 'sig');
  fc.assert(
    fc.property(place, plain, (key, value) => {
      const line = canonical({ ...BASE, [key]: value });
      expect([line, 'wrong_shape']).toContain(codeOf(line));
    }),
    RUNS,
  );
});

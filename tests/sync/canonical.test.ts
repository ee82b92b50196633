import canonicalize from 'canonicalize';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  canonical,
  parse,
  RefusedLine,
  sha256Hex,
  sizeBytes,
} from '../../sync/typescript/canonical.ts';
import vectors from '../../sync/vectors/canonical.json';

const RUNS = { numRuns: 300 };
const refusal = (act: () => unknown): RefusedLine => {
  try {
    act();
  } catch (cause) {
    if (cause instanceof RefusedLine) return cause;
    throw cause;
  }
  throw new Error('Nothing was refused.');
};

describe('canonical', () => {
  it.each(vectors.lines)('writes and reads: $what', ({ value, line }) => {
    expect(canonical(value)).toBe(line);
    expect(parse(line)).toEqual(value);
  });

  it.each(vectors.refused)('refuses $what', ({ line }) => {
    const { code, message, hint } = refusal(() => parse(line));
    expect(code).toBe('not_canonical');
    expect(message.endsWith('.')).toBe(true);
    expect(hint).not.toBe('');
  });

  it.each(vectors.unfit)('does not write $what', ({ value }) => {
    expect(refusal(() => canonical(value)).code).toBe('not_canonical');
  });

  it.each([
    ['half a character', '\ud83d'],
    ['the other half', ['\udd29']],
    ['half a character as a key', { '\ud83d': 1 }],
    ['nothing', { a: undefined }],
    ['no number', Number.NaN],
    ['a function', () => 1],
    ['a big integer', 1n],
  ])('does not write %s', (_, value) => {
    expect(refusal(() => canonical(value)).code).toBe('not_canonical');
  });

  it('hashes as published', async () => {
    for (const { text, sha256 } of vectors.sha256)
      expect(await sha256Hex(text, crypto.subtle)).toBe(sha256);
  });

  it('counts bytes of UTF-8', () => {
    expect(['a', 'é', '€', '\u{1f529}'].map(sizeBytes)).toEqual([1, 2, 3, 4]);
  });
});

const letters = fc.constantFrom(...'aB"\\/\b\n\u0001\u007f\u2028é€\u0301\u{1f529}');
const text = fc.array(letters).map((parts) => parts.join('').normalize('NFC'));
const key = fc.array(fc.constantFrom(...'aB_19\n\\'), { maxLength: 3 }).map((one) => one.join(''));
const { value } = fc.letrec<{ value: unknown }>((tie) => ({
  value: fc.oneof(
    { depthSize: 'small' },
    fc.constant(null),
    fc.boolean(),
    fc.maxSafeInteger(),
    fc.integer({ min: -3, max: 3 }),
    text,
    fc.array(tie('value'), { maxLength: 4 }),
    fc.dictionary(key, tie('value'), { maxKeys: 4, noNullPrototype: true }),
  ),
}));

it('writes the line of RFC 8785 and reads it back', () => {
  fc.assert(
    fc.property(value, (one) => {
      const plain = JSON.parse(JSON.stringify(one));
      expect(canonical(plain)).toBe(canonicalize(plain));
      expect(parse(canonical(plain))).toEqual(plain);
    }),
    RUNS,
  );
});

it('refuses a line or it is the only spelling of its value', () => {
  const signs = fc.constantFrom(...'{}[]",:01-.eaé\\un \u0301');
  const line = fc.array(signs, { maxLength: 12 }).map((parts) => parts.join(''));
  fc.assert(
    fc.property(line, (one) => {
      let found: unknown;
      try {
        found = parse(one);
      } catch (cause) {
        expect(cause).toBeInstanceOf(RefusedLine);
        return;
      }
      expect(canonical(found)).toBe(one);
    }),
    { numRuns: 3000, examples: [['{"a":1,"a":1}'], ['[1e999]'], ['{"a":[0,-1]}']] },
  );
});

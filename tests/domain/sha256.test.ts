import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { sha256Hex } from '../../frontend/src/domain/sha256';

// FIPS 180-4 examples, as published with the standard (from memory): one block, two blocks.
it.each([
  ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
  [
    'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
  ],
])('hashes %s as the standard says', (text, hex) => {
  expect(sha256Hex(text)).toBe(hex);
});

it('hashes every text as the platform does, at every length of a block', () => {
  const length = fc.integer({ min: 0, max: 200 });
  fc.assert(
    fc.property(length, fc.string({ unit: 'binary' }), (size, tail) => {
      const text = 'a'.repeat(size) + tail;
      expect(sha256Hex(text)).toBe(createHash('sha256').update(text).digest('hex'));
    }),
  );
});

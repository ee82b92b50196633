/** SHA-256 without waiting, for the short lists that stamps are made over (FIPS 180-4). */

const K = constants(64, 3);
const START = constants(8, 2);

/** The first 32 bits of the fractions of roots of the first primes (FIPS 180-4, 4.2.2, 5.3.3). */
function constants(count: number, root: 2 | 3): Uint32Array {
  const found: number[] = [];
  for (let n = 2; found.length < count; n++)
    if (isPrime(n)) found.push(Number(rootOf(BigInt(n) << BigInt(32 * root), root) % (1n << 32n)));
  return Uint32Array.from(found);
}

function isPrime(n: number): boolean {
  for (let d = 2; d * d <= n; d++) if (n % d === 0) return false;
  return true;
}

/** The whole part of a square or cube root. */
function rootOf(value: bigint, root: 2 | 3): bigint {
  let low = 0n;
  let high = 1n << 48n;
  while (high - low > 1n) {
    const middle = (low + high) / 2n;
    if (middle ** BigInt(root) > value) high = middle;
    else low = middle;
  }
  return low;
}

const turn = (x: number, by: number): number => (x >>> by) | (x << (32 - by));

/** The SHA-256 of a text's UTF-8 bytes, as 64 hex digits. */
export function sha256Hex(text: string): string {
  const bytes = padded(new TextEncoder().encode(text));
  const state = Uint32Array.from(START);
  const words = new Uint32Array(64);
  for (let at = 0; at < bytes.byteLength; at += 64) {
    for (let i = 0; i < 16; i++) words[i] = bytes.getUint32(at + 4 * i);
    for (let i = 16; i < 64; i++) words[i] = spread(words, i);
    mix(state, words);
  }
  return [...state].map((word) => word.toString(16).padStart(8, '0')).join('');
}

function padded(bytes: Uint8Array): DataView {
  const size = Math.ceil((bytes.length + 9) / 64) * 64;
  const view = new DataView(new ArrayBuffer(size));
  new Uint8Array(view.buffer).set(bytes);
  view.setUint8(bytes.length, 0x80);
  view.setBigUint64(size - 8, BigInt(bytes.length) * 8n);
  return view;
}

function spread(words: Uint32Array, i: number): number {
  const at = (back: number) => words[i - back] as number;
  const low = turn(at(15), 7) ^ turn(at(15), 18) ^ (at(15) >>> 3);
  const high = turn(at(2), 17) ^ turn(at(2), 19) ^ (at(2) >>> 10);
  return (at(16) + low + at(7) + high) >>> 0;
}

function mix(state: Uint32Array, words: Uint32Array): void {
  let [a, b, c, d, e, f, g, h] = state as unknown as [
    ...[number, number, number, number],
    ...[number, number, number, number],
  ];
  for (let i = 0; i < 64; i++) {
    const sum = turn(e, 6) ^ turn(e, 11) ^ turn(e, 25);
    const one = (h + sum + ((e & f) ^ (~e & g)) + (K[i] as number) + (words[i] as number)) >>> 0;
    const two = (turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c));
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + one) >>> 0, c, b, a, (one + two) >>> 0];
  }
  [a, b, c, d, e, f, g, h].forEach((word, i) => {
    state[i] = (state[i] as number) + word;
  });
}

import { describe, expect, it } from 'vitest';
import {
  passcodeCheck,
  passcodeHolds,
  waitAfter_ms,
} from '../../../frontend/src/services/passcode';

const hex = (text: string) => Buffer.from(text, 'base64url').toString('hex');
const salt = Buffer.from('salt').toString('base64url');

describe('passcodeCheck', () => {
  // PBKDF2-HMAC-SHA-256, 64 bytes: RFC 7914, section 11 ("passwd", "salt", 1 iteration).
  it('starts as the published example', async () => {
    const check = await passcodeCheck('passwd', { salt, iterations: 1 });
    expect(hex(check)).toBe('55ac046e56e3089fec1691c22544b605f94185216dde0465e68b9d57c20dacbc');
  });

  it('tells the right passcode from others', async () => {
    const way = { salt, iterations: 17 };
    const unlock = { ...way, check: await passcodeCheck('271828', way) };
    expect(await passcodeHolds('271828', unlock)).toBe(true);
    expect(await passcodeHolds('271829', unlock)).toBe(false);
    expect(await passcodeHolds('', unlock)).toBe(false);
  });
});

describe('the spelling of a passcode', () => {
  it.each([
    ['cafe\u0301 crew', 'caf\u00e9 crew'],
    ['\uff11\uff12\uff13\uff14\uff15\uff16', '123456'],
    ['o\ufb03ce door', 'office door'],
  ])('%s is %s', async (typed, kept) => {
    const way = { salt, iterations: 3 };
    expect(await passcodeCheck(typed, way)).toBe(await passcodeCheck(kept, way));
  });
});

describe('waitAfter_ms', () => {
  it.each([
    [4, 0],
    [5, 15_000],
    [6, 30_000],
    [60, 300_000],
  ])('after %i wrong passcodes asks for %i ms', (wrong, wait_ms) => {
    expect(waitAfter_ms(wrong)).toBe(wait_ms);
  });
});

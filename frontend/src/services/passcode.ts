/** Checks a passcode on this browser, with no network. */

/** What the server hands an enrolled browser for one person; salt and check in base64url. */
export interface Unlock {
  salt: string;
  iterations: number;
  check: string;
}

const BITS = 256;

/** Returns PBKDF2-SHA-256 of a passcode, 32 bytes in base64url. RFC 8018, section 5.2. */
export async function passcodeCheck(
  passcode: string,
  { salt, iterations }: Pick<Unlock, 'salt' | 'iterations'>,
): Promise<string> {
  const bytes = new TextEncoder().encode(spelling(passcode));
  const key = await crypto.subtle.importKey('raw', bytes, 'PBKDF2', false, ['deriveBits']);
  const way = { name: 'PBKDF2', hash: 'SHA-256', salt: fromBase64url(salt), iterations };
  const bits = await crypto.subtle.deriveBits(way, key, BITS);
  return toBase64url(new Uint8Array(bits));
}

/** Says whether a passcode is the person's. */
export async function passcodeHolds(passcode: string, unlock: Unlock): Promise<boolean> {
  return (await passcodeCheck(passcode, unlock)) === unlock.check;
}

/** The one spelling of a passcode: keyboards differ in how they write é or a full-width 1. */
export function spelling(passcode: string): string {
  return passcode.normalize('NFKC');
}

/** How long to wait after this many wrong passcodes in a row: never more than five minutes. */
export function waitAfter_ms(wrong: number): number {
  return wrong < 5 ? 0 : Math.min(300_000, 15_000 * 2 ** (wrong - 5));
}

function fromBase64url(text: string): Uint8Array<ArrayBuffer> {
  const plain = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
  return Uint8Array.from(plain, (character) => character.charCodeAt(0));
}

function toBase64url(bytes: Uint8Array): string {
  const text = btoa(String.fromCharCode(...bytes));
  return text.replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

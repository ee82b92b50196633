/** Enrolment: how a browser becomes a tablet or a desk of one book. */

import { Refused } from '../domain/errors';
import type { BookStore } from '../storage/database';
import { heldBook, holdBook } from '../storage/registry';
import type { WriteTransaction } from '../storage/schema';
import type { Server } from './server';
import type { Device, Json } from './shop';

/** What a browser keeps of its enrolment. The private key can't be read out again. */
export interface KeptDevice {
  book: string;
  tablet: string;
  letter: string | null;
  token: string;
  private_key: CryptoKey;
  public_key: JsonWebKey;
}

export interface Enrolled {
  tablet: string;
  letter?: string | null;
  token: string;
  book: string;
  epoch: string;
}

const KEY = 'device';

/** Returns what screens and entries know of a device. */
export function shownDevice({ book, tablet, letter }: KeptDevice): Device {
  return { book, tablet, letter, name: letter ?? tablet };
}

/** Reads the enrolment kept in a book, null where there is none. */
export async function readDevice(store: BookStore): Promise<KeptDevice | null> {
  const kept = await store.read(['meta'], (tx) => tx.objectStore('meta').get(KEY));
  return (kept as KeptDevice | undefined) ?? null;
}

/** Enrols this browser by a code, or as a desk by the person signed in at the server. */
export async function enrol(
  server: Server,
  code: string | null,
  openStore: (book: string) => BookStore,
): Promise<{ store: BookStore; device: KeptDevice }> {
  const keys = await makeKeys();
  const public_key = await publicHalf(keys);
  const body = { public_key: public_key as unknown as Json };
  const answer =
    code === null
      ? await server.post<Enrolled>('/api/enrol-desk', body)
      : await server.post<Enrolled>('/api/enrol', { ...body, code: code.trim() });
  await refuseAnotherBook(answer.book);
  const store = openStore(answer.book);
  const { book, tablet, token, letter = null } = answer;
  const device = { book, tablet, letter, token, private_key: keys.privateKey, public_key };
  const keep = async (tx: WriteTransaction) => {
    const meta = tx.objectStore('meta');
    const contact = await meta.get('contact');
    if (contact) await meta.put({ ...contact, shut: null }, 'contact');
    await meta.put(device, KEY);
  };
  await store.write(['meta'], keep, 'the enrolment');
  await holdBook(book);
  return { store, device };
}

/** Refuses to mix two books in one browser: the other one may hold work not yet sent. */
export async function refuseAnotherBook(book: string): Promise<void> {
  const held = await heldBook();
  if (held !== null && held !== book) throw anotherBook();
}

/** The refusal where a server has another book than this browser. */
export function anotherBook(): Refused {
  return new Refused(
    'another_book',
    'This tablet holds another book.',
    'Use it with the server of that book, or ask the lead for another tablet.',
  );
}

async function makeKeys(): Promise<CryptoKeyPair> {
  const algorithm = { name: 'ECDSA', namedCurve: 'P-256' };
  return crypto.subtle.generateKey(algorithm, false, ['sign', 'verify']);
}

async function publicHalf(keys: CryptoKeyPair): Promise<JsonWebKey> {
  const { kty, crv, x, y } = await crypto.subtle.exportKey('jwk', keys.publicKey);
  return { kty, crv, x, y } as JsonWebKey;
}

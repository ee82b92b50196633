import 'fake-indexeddb/auto';
import { IDBFactory } from 'fake-indexeddb';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readDevice } from '../../../frontend/src/services/device';
import type { OpenShop } from '../../../frontend/src/services/open';
import { BookStore } from '../../../frontend/src/storage/database';
import { BOOK, INSPECTOR, PASSCODES, PLACE, Workshop } from './bench';

let workshop: Workshop;

beforeEach(async () => {
  workshop = await new Workshop().open();
});
afterEach(() => workshop.close());

const signIn = (shop: OpenShop) => shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);

describe('enrolment', () => {
  it('keeps a key that signs and can’t be read out', async () => {
    const shop = await workshop.tablet();
    expect(shop.device).toEqual({ book: BOOK, tablet: 'tablet-a', letter: 'A', name: 'A' });
    await shop.close();
    const store = new BookStore(BOOK);
    const device = await readDevice(store);
    await store.close();
    const { private_key, public_key } = device as NonNullable<typeof device>;
    expect(Object.keys(public_key).sort()).toEqual(['crv', 'kty', 'x', 'y']);
    await expect(crypto.subtle.exportKey('jwk', private_key)).rejects.toThrow();
    const way = { name: 'ECDSA', hash: 'SHA-256' };
    const text = new TextEncoder().encode('entry');
    const signature = await crypto.subtle.sign(way, private_key, text);
    const curve = { name: 'ECDSA', namedCurve: 'P-256' };
    const key = await crypto.subtle.importKey('jwk', public_key, curve, true, ['verify']);
    expect(await crypto.subtle.verify(way, key, signature, text)).toBe(true);
  });

  it('is remembered when the app is opened again with no network', async () => {
    await (await workshop.tablet()).close();
    workshop.server.isAway = true;
    expect((await workshop.shop()).device?.letter).toBe('A');
  });

  it('leaves a browser as it was when the code is wrong', async () => {
    const shop = await workshop.shop();
    await expect(shop.enrolment.enrol('999999')).rejects.toMatchObject({ code: 'no_such_code' });
    expect(shop.device).toBeNull();
    expect(() => shop.book).toThrow('This browser is not enrolled in a book yet.');
  });

  it('refuses a second book: the first may hold work not yet sent', async () => {
    const shop = await workshop.tablet();
    workshop.server.book = 'another-book';
    await expect(shop.enrolment.enrol('123456')).rejects.toThrow('This tablet holds another book.');
    expect(shop.device?.book).toBe(BOOK);
  });

  it('makes a desk of a browser whose person is signed in at the server', async () => {
    const shop = await workshop.shop();
    const before = await signIn(shop);
    expect(before).toMatchObject({ person: INSPECTOR, online: true });
    await shop.enrolment.enrolDesk();
    expect(shop.device).toMatchObject({ letter: null, name: 'tablet-a' });
    expect(shop.session).toMatchObject({ person: INSPECTOR, online: true });
    const session = await signIn(shop);
    await expect(shop.capture.shutter(session, PLACE)).rejects.toMatchObject({ code: 'desk' });
  });
});

describe('a cloned tablet', () => {
  it('keeps both records of one number, and loses no entry', async () => {
    const one = await workshop.tablet();
    const session = await signIn(one);
    globalThis.indexedDB = new IDBFactory();
    const twin = await workshop.tablet();
    const theirs = await signIn(twin);
    workshop.server.isAway = true;
    const [mine, other] = [
      await one.capture.shutter(session, PLACE),
      await twin.capture.shutter(theirs, PLACE),
    ];
    expect(other.number).toBe(mine.number);
    workshop.server.isAway = false;
    for (const shop of [one, twin, one]) await shop.exchange.sendNow();
    for (const shop of [one, twin]) {
      const rows = await shop.book.numbered('A0001');
      expect(rows.map(({ record }) => record).sort()).toEqual([mine.record, other.record].sort());
      expect(rows.every((row) => row.number_shared)).toBe(true);
    }
    expect((await one.capture.shutter(session, PLACE)).number).toBe('A/0002');
  });
});

import 'fake-indexeddb/auto';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { KeptPlaces } from '../../../frontend/src/services/places';
import type { Session } from '../../../frontend/src/services/shop';
import { BookStore } from '../../../frontend/src/storage/database';
import type { QuickCopy } from '../../../frontend/src/storage/quick';
import { PLACE } from './bench';

const session = (person: string) => ({ person }) as Session;
const AFT = { ...PLACE, member: 'F7' };
let kept: Map<string, string>;
let count = 0;
let store: BookStore;

const quick: QuickCopy = {
  read: (name) => kept.get(name) ?? null,
  write: (name, text) => void kept.set(name, text),
  remove: (name) => void kept.delete(name),
};

beforeEach(() => {
  kept = new Map();
  count += 1;
  store = new BookStore(`places${count}`);
});
afterEach(() => store.close());

it('knows where a person, the tablet and each structure were, and leaves no copy behind', async () => {
  const places = new KeptPlaces(store, quick);
  await places.keepPlace(session('one'), AFT);
  expect(await places.place(session('one'))).toEqual(AFT);
  expect(await places.place(session('two'))).toEqual(AFT);
  expect(await places.placeIn('Hull')).toEqual(AFT);
  expect(await places.placeIn('Wing')).toBeNull();
  expect([...kept]).toEqual([]);
});

// A browser that puts a page aside whole ends its store; work that waits for a frame comes before
// or after that, whichever was listening first.
it.each(['before', 'after'])('keeps the last step made %s its page is put aside', async (when) => {
  const places = new KeptPlaces(store, quick);
  await places.keepPlace(session('one'), PLACE);
  if (when === 'after') store.letGo();
  void places.keepPlace(session('one'), AFT).catch(() => undefined);
  if (when === 'before') store.letGo();
  const again = new BookStore(`places${count}`);
  const next = new KeptPlaces(again, quick);
  expect(await next.place(session('one'))).toEqual(AFT);
  expect(await next.place(session('two'))).toEqual(AFT);
  expect(await next.placeIn('Hull')).toEqual(AFT);
  await next.keepPlace(session('two'), PLACE);
  expect(await next.place(session('two'))).toEqual(PLACE);
  expect(await next.place(session('one'))).toEqual(AFT);
  await again.close();
});

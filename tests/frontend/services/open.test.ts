import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { describe, expect, it, vi } from 'vitest';
import type { AgainStep } from '../../../frontend/src/services/again';
import { openShop } from '../../../frontend/src/services/open';
import { holdBook } from '../../../frontend/src/storage/registry';

/** Today's stores and one more: what a later version would open. */
vi.mock('../../../frontend/src/storage/schema', async (original) => {
  const real = await original<typeof import('../../../frontend/src/storage/schema')>();
  const steps = [...Array(real.VERSION)].map(() => () => {});
  const openBookDatabase: typeof real.openBookDatabase = (book, hooks) =>
    real.openBookDatabase(book, hooks, [...steps, () => {}]);
  return { ...real, openBookDatabase, openAsToday: real.openBookDatabase };
});

type Mocked = typeof import('../../../frontend/src/storage/schema') & {
  openAsToday: typeof import('../../../frontend/src/storage/schema').openBookDatabase;
};

describe('opening the shop', () => {
  it('says that another tab is in the way while one holds older stores, and then goes on', async () => {
    const { openAsToday, VERSION } = (await import(
      '../../../frontend/src/storage/schema'
    )) as Mocked;
    const old_tab = await openAsToday('b1', { blocked() {}, blocking() {}, terminated() {} });
    await old_tab.put('meta', 'kept', 'cursor');
    await holdBook('b1');
    const steps: AgainStep[] = [];
    const opening = openShop(
      { newVersion: false, takeNewVersion: async () => {} },
      {
        ...{ rules: 'new', status: {} },
        fetch: () => Promise.reject(new TypeError('no server')),
        again: { tell: (step) => void steps.push(step), failed: async () => false },
      },
    );
    await expect.poll(() => steps).toEqual(['waits']);
    old_tab.close();
    const shop = await opening;
    expect(shop.fault).toBeNull();
    await shop.close();
    const now = await openDB('skinpin-b1');
    expect([now.version, await now.get('meta', 'cursor')]).toEqual([VERSION + 1, 'kept']);
    now.close();
  });
});

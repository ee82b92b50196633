import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type AgainStep, type AgainTold, bringUp } from '../../../frontend/src/services/again';
import { turns } from '../../../frontend/src/services/locks';
import type { OpenShop } from '../../../frontend/src/services/open';
import { isWorkedOut } from '../../../frontend/src/storage/again';
import { BookStore } from '../../../frontend/src/storage/database';
import { fillUp } from '../storage/broken';
import { BOOK, INSPECTOR, PASSCODES, PLACE, Workshop } from './bench';
import { pageLocks } from './page_locks';

let workshop: Workshop;
let browser: LockManager;
const opened: BookStore[] = [];

beforeEach(async () => {
  workshop = await new Workshop().open();
  browser = pageLocks();
});
afterEach(async () => {
  for (const store of opened.splice(0)) await store.close();
  await workshop.close();
});

/** A tab that notes what it is told. */
function tab(answer: boolean[] = []) {
  const store = new BookStore(BOOK);
  opened.push(store);
  const steps: AgainStep[] = [];
  const reasons: string[] = [];
  const told: AgainTold = {
    tell: (step) => void steps.push(step),
    failed: async (reason) => {
      reasons.push(reason);
      return answer.shift() ?? false;
    },
  };
  const open = (rules: string, locks?: LockManager) => bringUp(store, rules, turns(locks), told);
  return { store, steps, reasons, open };
}

/** A tablet with a record that waits to be sent, closed again; its book was derived by `old`. */
async function closedTablet(): Promise<OpenShop> {
  const shop = await workshop.tablet();
  const session = await shop.people.unlock(INSPECTOR, PASSCODES[INSPECTOR] as string);
  await shop.capture.shutter(session, PLACE);
  await shop.close();
  const { store } = tab();
  await store.write(['meta'], (tx) => tx.objectStore('meta').put('old', 'rules'));
  return shop;
}

/** A moment in which everything that can go on has gone on. */
const moment = () => new Promise((done) => setTimeout(done, 50));

async function tablet(given: { rules: string; again?: AgainTold }): Promise<OpenShop> {
  return workshop.shop(undefined, given);
}

describe('a book that a new version opens', { timeout: 30_000 }, () => {
  it('is worked out again before anybody works with it, and once only', async () => {
    await closedTablet();
    const steps: AgainStep[] = [];
    const again: AgainTold = { tell: (step) => void steps.push(step), failed: async () => false };
    const shop = await tablet({ rules: 'new', again });
    expect(steps[0]).toEqual({ done: 0, of: 1 });
    expect(steps.at(-1)).toEqual({ done: 1, of: 1 });
    expect((await shop.book.defects()).map(({ number }) => number)).toEqual(['A/0001']);
    const { entries } = await shop.status.waiting();
    expect(entries).toBe(1);
    await shop.close();
    steps.length = 0;
    await tablet({ rules: 'new', again });
    expect(steps).toEqual([]);
  });

  it('sends what waited, byte for byte', async () => {
    await closedTablet();
    const { store } = tab();
    const linesOf = () =>
      store.read(['entries', 'unsent'], async (tx) => [
        (await tx.objectStore('entries').getAll()).map(({ line }) => line),
        await tx.objectStore('unsent').getAll(),
      ]);
    const before = await linesOf();
    const shop = await tablet({ rules: 'new' });
    expect(await linesOf()).toEqual(before);
    await shop.exchange.sendNow();
    expect((await shop.status.waiting()).entries).toBe(0);
    const waited = (before[1] as { id: string }[]).map(({ id }) => id);
    const came = workshop.server.log.filter(({ id }) => waited.includes(id));
    expect(came).toHaveLength(1);
    expect(before[0]).toContain(came[0]?.line);
  });

  it('is worked out in one tab while the other waits and says so', async () => {
    await closedTablet();
    const [one, other] = [tab(), tab()];
    const [leave, leave_too] = await Promise.all([
      one.open('new', browser),
      other.open('new', browser),
    ]);
    const worked = [one, other].filter(({ steps }) => steps.some((step) => step !== 'waits'));
    const waited = [one, other].filter(({ steps }) => steps.includes('waits'));
    expect(worked).toHaveLength(1);
    expect(waited.length).toBeGreaterThan(0);
    expect(await isWorkedOut(one.store, 'new')).toBe(true);
    leave();
    leave_too();
  });

  it('waits for a tab in which the version before is open, and goes on when that is closed', async () => {
    await closedTablet();
    const [before, after] = [tab(), tab()];
    const leave = await before.open('old', browser);
    let isOpen = false;
    const opening = after.open('new', browser).then((left) => {
      isOpen = true;
      left();
    });
    await moment();
    expect([isOpen, after.steps]).toEqual([false, ['waits']]);
    expect(await isWorkedOut(after.store, 'old')).toBe(true);
    leave();
    await opening;
    expect(after.steps.at(-1)).toEqual({ done: 1, of: 1 });
    expect(await isWorkedOut(after.store, 'new')).toBe(true);
  });

  it('asks what to do where it fails: again, or on with what there is', async () => {
    await closedTablet();
    const full = tab([true, false]);
    const stop = fillUp('rows');
    const leave = await full.open('new').finally(stop);
    leave();
    expect(full.reasons).toHaveLength(2);
    expect(full.reasons[0]).toContain('This tablet is full');
    expect(await isWorkedOut(full.store, 'new')).toBe(false);
    const names = (await indexedDB.databases()).map(({ name }) => name ?? '');
    expect(names.filter((name) => name.endsWith(' again'))).toEqual([]);
    const next = tab([true]);
    await next.open('new');
    expect([next.reasons, await isWorkedOut(next.store, 'new')]).toEqual([[], true]);
  });
});

describe('a book that the same version opens again', () => {
  it('is opened by any number of tabs side by side', async () => {
    await closedTablet();
    const tabs = [tab(), tab(), tab()];
    for (const one of tabs) await one.open('old', browser);
    expect(tabs.flatMap(({ steps }) => steps)).toEqual([]);
  });
});

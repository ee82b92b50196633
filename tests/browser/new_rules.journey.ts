import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { enrol, photograph, sendNow, signIn, waiting } from './acts';
import { accessibilityProblems, picture, useStage, waitForOffline } from './harness';

/** Notes every heading that the page shows; asked to, it loads the page anew in mid-work. */
const NOTE_HEADINGS = `
  const heads = JSON.parse(sessionStorage.getItem('heads') ?? '[]');
  const note = (head) => {
    if (!head || heads.at(-1) === head) return;
    heads.push(head);
    sessionStorage.setItem('heads', JSON.stringify(heads));
    if (!/again: [1-9]/.test(head) || !sessionStorage.getItem('reload')) return;
    sessionStorage.removeItem('reload');
    location.reload();
  };
  note('page loaded');
  const look = () => note(document.querySelector('.again h2')?.textContent);
  new MutationObserver(look).observe(document, {
    ...{ subtree: true, childList: true, characterData: true },
  });
`;

describe('a tablet whose book was derived by other rules', () => {
  const stage = useStage('demo');

  it('works it out again in one tab, goes on after a reload, and loses nothing', async () => {
    const { page, context, expected } = await stage.open('airframe');
    expected.push('/api/', 'Failed to load resource');
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 1');
    await sendNow(page);
    await page.goto('/airframe');
    await stage.server.kill();
    await photograph(page);
    await expect.poll(() => waiting(page)).toMatch(/^1 record/);
    const before = await dump(page);
    expect(before.unsent.length).toBeGreaterThan(1);

    const other = await context.newPage();
    await other.goto('/');
    await other.locator('.title-block').waitFor();
    await page.evaluate(spoil);
    expect((await dump(page)).derived).not.toEqual(before.derived);
    await context.addInitScript(NOTE_HEADINGS);
    await page.reload();
    await page.getByRole('heading', { name: 'Another tab comes first' }).waitFor();
    expect(await accessibilityProblems(page)).toEqual([]);
    await picture(page, 'journey-another-tab-first');

    await page.evaluate(() => sessionStorage.setItem('reload', 'once'));
    await other.close();
    await expect.poll(() => waiting(page), { timeout: 60_000 }).toMatch(/^1 record/);
    const heads = await page.evaluate(() => sessionStorage.getItem('heads') ?? '[]');
    const [, first, second] = (JSON.parse(heads) as string[]).join('\n').split('page loaded');
    expect(first).toContain('Another tab');
    const counts = [first, second].map((one) =>
      [...(one ?? '').matchAll(/again: ([\d,]+) of ([\d,]+) records/g)].map(([, done]) => done),
    );
    expect(counts[0]?.[0]).toBe('0');
    expect(Number(counts[0]?.at(-1))).toBeGreaterThan(0);
    // A part may still have been stored while the page was going.
    expect(Number(counts[1]?.[0])).toBeGreaterThanOrEqual(Number(counts[0]?.at(-1)));
    expect(await dump(page)).toEqual(before);
  });
});

interface Dump {
  unsent: unknown[];
  kept: unknown;
  derived: unknown;
}

/** Everything in the store of the book, what is derived by itself; lists that are sets in order. */
async function dump(page: Page): Promise<Dump> {
  const rows = await page.evaluate(async () => {
    const asked = <T>(request: IDBRequest<T>) =>
      new Promise<T>((done) => {
        request.onsuccess = () => done(request.result);
      });
    const names = (await indexedDB.databases()).map(({ name }) => name ?? '');
    const name = names.find((one) => one.startsWith('skinpin-') && !one.endsWith(' again'));
    const database = await asked(indexedDB.open(name as string));
    const all = async (store: string) =>
      asked(database.transaction(store).objectStore(store).getAll());
    const stores = ['entries', 'standing', 'rows', 'unsent', 'unsent_files', 'drafts', 'refused'];
    const found = await Promise.all(stores.map(all));
    const meta = database.transaction('meta').objectStore('meta');
    const numbers = await asked(meta.get('numbers'));
    const files = await asked(database.transaction('files').objectStore('files').getAllKeys());
    database.close();
    return JSON.stringify([...found, numbers, files]);
  });
  const [entries, standing, defects, unsent, ...kept] = JSON.parse(rows);
  const lines = entries.map(({ line, sha256 }: Row) => [line, sha256]);
  const sorted = (list: Row[], key: string) =>
    list.map(({ at: _at, ...row }) => ({ ...row, [key]: [...((row[key] as []) ?? [])].sort() }));
  const derived = [
    sorted(entries, 'refers'),
    sorted(standing, 'names'),
    sorted(defects, 'numbers'),
  ];
  return { unsent, kept: [lines, ...kept], derived };
}

type Row = Record<string, unknown>;

/** Leaves the store as an older build would: another name of rules, verdicts and rows of its own. */
async function spoil(): Promise<void> {
  const names = (await indexedDB.databases()).map(({ name }) => name ?? '');
  const opening = indexedDB.open(names.find((one) => one.startsWith('skinpin-')) as string);
  const database = await new Promise<IDBDatabase>((done) => {
    opening.onsuccess = () => done(opening.result);
  });
  const tx = database.transaction(['entries', 'rows', 'standing', 'meta'], 'readwrite');
  tx.objectStore('meta').put('older', 'rules');
  const each = (store: string, change: (row: Record<string, unknown>) => object) => {
    tx.objectStore(store).openCursor().onsuccess = ({ target }) => {
      const cursor = (target as IDBRequest<IDBCursorWithValue | null>).result;
      if (!cursor) return;
      cursor.update(change(cursor.value));
      cursor.continue();
    };
  };
  each('rows', (row) => ({ ...row, row: { ...(row.row as object), grade_words: 'Grade 9' } }));
  each('standing', (row) => ({ ...row, awaited: ['0000000000000-0000-nobody00'] }));
  each('entries', ({ verdict, ...row }) =>
    verdict ? { ...row, verdict: { result: 'waits' } } : row,
  );
  await new Promise((done) => {
    tx.oncomplete = done;
  });
  database.close();
}

// A tablet that can't reach the server: a file on a memory stick, taken in at the desk, reported.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, describe, expect, inject, it } from 'vitest';
import { calm, enrol, letterOf, photograph, sendNow, sent, session, signIn, waiting } from './acts';
import { accessibilityProblems, picture, useStage, waitForOffline } from './harness';

describe('a memory stick between a tablet and the desk', () => {
  const stage = useStage('demo');
  const folder = mkdtempSync(join(tmpdir(), 'stick-'));
  afterAll(() => rmSync(folder, { recursive: true }));

  it('brings an offline record and its photograph into the report, once', async () => {
    const { page, expected } = await stage.open('airframe');
    expected.push('/api/photographs/', 'Failed to load resource', 'ERR_');
    // Without a picker of places the browser's downloads take the file.
    await page.addInitScript(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 1');
    await page.getByText(/SHELL EXPANSION/).waitFor();

    // The tablet is away; only then a record is begun.
    await page.context().setOffline(true);
    const number = await photograph(page);
    await page.getByRole('button', { name: /^MEASURE/ }).click();
    await page.getByRole('button', { name: 'Pitting', exact: true }).click();
    await page.getByText(/grade/i).first().waitFor();
    await page.goto('/waiting');
    await expect.poll(() => waiting(page)).toContain('1 record');
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: /^WRITE A\s*FILE/ }).click();
    const written = await download;
    const name = written.suggestedFilename();
    expect(name).toMatch(/^[A-Z]-2025-11-03-\d{4}\.zip$/);
    const file = join(folder, name);
    await written.saveAs(file);
    await page.getByText('Memory-stick file written').waitFor();
    await expect.poll(() => waiting(page)).toContain('1 record, 1 photograph');
    expect(await accessibilityProblems(page)).toEqual([]);
    await picture(page, 'journey-stick-written');
    await page.evaluate(() => document.documentElement.setAttribute('data-light', 'inside'));
    await picture(page, 'journey-stick-written-inside');

    // A reader that knows nothing of the app finds a whole bag.
    const python = join(inject('root'), '.venv/bin/python');
    const read = execFileSync(python, ['-m', 'tests.rfc8493', file], {
      cwd: inject('root'),
      encoding: 'utf8',
    });
    const { files } = JSON.parse(read) as { files: string[] };
    expect(files.filter((one) => one.startsWith('data/photographs/'))).toHaveLength(1);

    const desk = await deskOf('Lead');
    await desk.goto('/people');
    await calm(desk);
    await desk.getByRole('button', { name: /^TAKE IN A FILE/ }).click();
    await desk.waitForURL('/take-in');

    // A damaged copy is refused and nothing changes; the whole one is taken in, and then is old.
    const damaged = readFileSync(file);
    damaged[200] = (damaged[200] as number) ^ 1;
    const wrong = join(folder, 'damaged.zip');
    writeFileSync(wrong, damaged);
    await desk.getByLabel('Memory-stick file').setInputFiles(wrong);
    await desk.getByText(/Nothing was stored/).waitFor();
    await picture(desk, 'journey-take-in-refused');
    await desk.getByLabel('Memory-stick file').setInputFiles(file);
    await desk.getByRole('heading', { name: /^Tablet [A-Z]: taken in/ }).waitFor();
    await expect
      .poll(() => desk.locator('.take-in-taken').innerText())
      .toMatch(/Photographs\s+1 new/);
    await desk.getByLabel('Memory-stick file').setInputFiles(file);
    await desk.getByText(/nothing in it was new/).waitFor();
    await desk.locator('.take-in-before tbody tr').first().waitFor({ timeout: 40_000 });
    await expect.poll(() => desk.locator('.take-in-before tbody tr').count()).toBe(1);
    expect(await accessibilityProblems(desk)).toEqual([]);
    await picture(desk, 'journey-take-in');
    await desk.evaluate(() => document.documentElement.setAttribute('data-light', 'inside'));
    expect(await accessibilityProblems(desk)).toEqual([]);
    await picture(desk, 'journey-take-in-inside');

    // The report of its zone shows the record; the tablet meets the server and counts nothing.
    const cookie = await session(stage.server, 'Lead');
    const get = (path: string) => fetch(`${stage.server.address}${path}`, { headers: { cookie } });
    const [row] = (await (await get(`/api/defects/${number}`)).json()) as { zone: string }[];
    const pdf = Buffer.from(await (await get(`/api/reports/zone/${row?.zone}.pdf`)).arrayBuffer());
    writeFileSync(join(folder, 'zone.pdf'), pdf);
    const text = execFileSync(
      python,
      [
        '-c',
        "import sys,pypdf; print(' '.join(p.extract_text() for p in pypdf.PdfReader(sys.argv[1]).pages))",
        join(folder, 'zone.pdf'),
      ],
      { encoding: 'utf8' },
    );
    expect(text).toContain(`${number[0]}/${number.slice(1)}`);
    const before = ((await (await get('/api/health')).json()) as { seq: number }).seq;
    await page.context().setOffline(false);
    await sendNow(page);
    await sent(page);
    expect(((await (await get('/api/health')).json()) as { seq: number }).seq).toBe(before);
  });

  it('asks a lead for a reason where the tablet was ended', async () => {
    const { page } = await stage.open('airframe');
    await page.addInitScript(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 1');
    await page.getByText(/SHELL EXPANSION/).waitFor();
    await page.context().setOffline(true);
    await photograph(page);
    const letter = await letterOf(page);
    await page.goto('/waiting');
    await page.getByRole('button', { name: /^WRITE A\s*FILE/ }).waitFor();
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: /^WRITE A\s*FILE/ }).click();
    const file = join(folder, 'ended.zip');
    await (await download).saveAs(file);
    const desk = await deskOf('Lead');
    await desk.goto('/people');
    await calm(desk);
    await desk.getByRole('button', { name: `END THIS DEVICE: Tablet ${letter}` }).click();
    await desk.getByLabel(/^Reason/).fill('left on the ferry');
    await desk.getByRole('button', { name: 'END THIS DEVICE', exact: true }).click();
    await desk.getByText('left on the ferry').waitFor();
    await desk.goto('/take-in');
    await desk.getByLabel('Memory-stick file').setInputFiles(file);
    await desk.getByText('Take it in all the same?').waitFor({ timeout: 20_000 });
    await picture(desk, 'journey-take-in-lost');
    await desk.getByLabel(/^Reason/).fill('found in the bilge');
    await desk.getByRole('button', { name: /^TAKE IT IN/ }).click();
    await desk.getByRole('heading', { name: `Tablet ${letter}: taken in` }).waitFor();
    await desk.getByText('found in the bilge').waitFor({ timeout: 40_000 });
  });

  async function deskOf(name: string): Promise<Page> {
    const { page } = await stage.open('desk');
    await page.goto('/');
    await signIn(page, name);
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL(/\/defects/);
    return page;
  }
});

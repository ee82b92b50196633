import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import find from '../vectors/find.json';
import { demoPerson, sent, session, signIn } from './acts';
import { accessibilityProblems, picture, type Stage, useStage, waitForOffline } from './harness';

const WHOLE_MS = 40_000;

async function desk(stage: Stage, name: string, ...expected: string[]): Promise<Page> {
  const device = await stage.open('desk');
  device.expected.push(...expected);
  const { page } = device;
  await page.goto('/');
  await signIn(page, name);
  await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
  await page.waitForURL(/\/defects/);
  // Some of it goes on with the network away, and opens forms then.
  await waitForOffline(page);
  await page.getByText('A/0002').first().waitFor({ timeout: WHOLE_MS });
  await sent(page);
  return page;
}

const key = (page: Page, name: string | RegExp) =>
  page.getByRole('button', typeof name === 'string' ? { name, exact: true } : { name });
const state = (page: Page) => page.locator('.record-state').innerText();
const sheet = (page: Page) => page.locator('.record').innerText();
const asked = (page: Page) => page.locator('.record-asked').innerText();
const listed = (page: Page) => page.locator('.list-number').allInnerTexts();

/** The whole list, of which only the rows in sight are drawn. */
async function allListed(page: Page): Promise<string[]> {
  const found = new Set<string>();
  for (const end of [0, 1]) {
    await page.locator('.list-window').evaluate((box, at) => {
      box.scrollTop = at * box.scrollHeight;
      return new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
    }, end);
    for (const number of await listed(page)) found.add(number);
  }
  return [...found].sort();
}
const counted = (page: Page) => page.locator('.find p').innerText();

async function record(page: Page, number: string): Promise<void> {
  await page.goto(`/defects/${number.replace('/', '')}`);
  await page.getByRole('heading', { name: number }).waitFor();
}

/** Axe in both lights, on the page as it stands. */
async function problemsInBothLights(page: Page): Promise<unknown[]> {
  const found: unknown[] = [];
  for (const light of ['outside', 'inside']) {
    await page.evaluate((one) => {
      document.documentElement.dataset.light = one;
    }, light);
    found.push(...(await accessibilityProblems(page)));
  }
  return found;
}

describe('the lead at the defect book', () => {
  const stage = useStage('demo');

  it('reads one record on one sheet, with its reasons, history and stamps', async () => {
    const page = await desk(stage, 'Lead');
    await record(page, 'A/0002');
    await expect.poll(() => sheet(page)).toContain('loss 17.2 % > 10 % of 0.064 in');
    const parts = ['AL3', 'zone 111', '16 SWG', 'blocks Stage 3, 2025-12-06'];
    parts.push('B/0015 was decided to be the same as A/0002.');
    for (const one of parts) await expect.poll(() => sheet(page)).toContain(one);
    await page.locator('.detail-picture img').first().waitFor();
    await picture(page, 'journey-defect-book');
    expect(await problemsInBothLights(page)).toEqual([]);
    await key(page, 'History').click();
    await expect.poll(() => sheet(page)).toContain('Raised by Inspector 1');
    await record(page, 'A/0001');
    await expect.poll(() => state(page)).toBe('CLEARED');
    await key(page, /^Stamps/).click();
    await expect.poll(() => page.locator('.stamps svg').count()).toBeGreaterThan(0);
    await expect
      .poll(() => page.locator('.stamps').innerText())
      .toContain('not electronically signed');
  });

  it('finds by place words what the server finds, and keeps them in the address', async () => {
    const page = await desk(stage, 'Lead');
    const cookie = await session(stage.server, 'Lead');
    for (const { words, numbers } of find.cases) {
      await page.locator('input[name=find]').fill(words);
      await expect.poll(() => counted(page)).toMatch(new RegExp(`^${numbers.length} of 45 `));
      const address = `${stage.server.address}/api/defects?find=${encodeURIComponent(words)}`;
      const answer = await fetch(address, { headers: { cookie } });
      const served = ((await answer.json()) as { number: string }[]).map((one) => one.number);
      expect(served).toEqual(numbers);
      await expect.poll(() => allListed(page), { message: words }).toEqual([...numbers].sort());
    }
    await page.locator('input[name=find]').fill('hull bottom');
    await expect.poll(() => page.url()).toContain('find=hull+bottom');
    await key(page, /^Filters/).click();
    await key(page, 'Open').click();
    await key(page, 'Grade 3 and worse').click();
    await expect
      .poll(() => page.locator('input[name=find]').inputValue())
      .toBe('hull bottom open ≥3');
    await picture(page, 'journey-find');
    expect(await problemsInBothLights(page)).toEqual([]);
    await key(page, 'Open').click();
    await key(page, 'Grade 4').click();
    await expect.poll(() => listed(page)).toEqual(['A/0004', 'A/0011']);
    await page.goBack();
    await page.goBack();
    await expect
      .poll(() => page.locator('input[name=find]').inputValue())
      .toBe('hull bottom open ≥3');
    await page.reload();
    await expect
      .poll(() => page.locator('input[name=find]').inputValue())
      .toBe('hull bottom open ≥3');
  });

  it('goes through the list by keyboard alone', async () => {
    const page = await desk(stage, 'Lead');
    await record(page, 'A/0002');
    // The keys go along the list, which comes after the sheet.
    await expect.poll(() => listed(page)).toContain('A/0002');
    await page.keyboard.press('j');
    await page.waitForURL('**/defects/B0015');
    await page.keyboard.press('k');
    await page.waitForURL('**/defects/A0002');
    // Pressed faster than a sheet is painted, every key still counts once.
    for (const letter of 'jjjk') await page.keyboard.press(letter);
    await page.waitForURL('**/defects/A0003');
    await page.keyboard.press('/');
    await page.keyboard.type('F11 P crack');
    await expect.poll(() => page.locator('input[name=find]').inputValue()).toBe('F11 P crack');
    await expect.poll(() => counted(page)).toMatch(/^1 of 45 /);
    await page.keyboard.press('Enter');
    await page.waitForURL('**/defects/A0009?find=F11+P+crack');
    const crack = key(page, 'Crack record');
    await crack.focus();
    await page.keyboard.press('Enter');
    await page.locator('.growth-plot').waitFor();
    expect(await problemsInBothLights(page)).toEqual([]);
  });

  it('draws a crack with its ± and limit, and a rivet line hole by hole', async () => {
    const page = await desk(stage, 'Lead');
    await record(page, 'A/0009');
    await key(page, 'Crack record').click();
    const words = page.locator('.crack-record');
    await expect.poll(() => words.innerText()).toContain('4 observations · growth is shown (CK3)');
    const told = ['0.81 ± 0.03 in', '+0.19, growth proved (CK3)', 'per 30 days', '4 points'];
    told.push('To next hole: 1.60 − 0.81 = 0.79 ± 0.03 in');
    for (const one of told) await expect.poll(() => words.innerText()).toContain(one);
    await expect.poll(() => page.locator('.growth-plot').innerHTML()).toContain('1.60 in');
    // The part rolls by itself; the sheet round it has nothing below to roll into.
    const below = await page
      .locator('.sheet-view')
      .evaluate((view) => view.scrollHeight - view.clientHeight);
    expect(below).toBeLessThanOrEqual(1);
    await picture(page, 'journey-crack');
    await page.locator('.crack-reach').scrollIntoViewIfNeeded();
    await picture(page, 'journey-crack-reach');
    await record(page, 'B/0001');
    await key(page, 'Rivet line').click();
    const line = page.locator('.rivet-line-sheet');
    await expect.poll(() => line.innerText()).toContain('64.6 – 68.8 %');
    const lines = ['72.7 – 76.8 %', '18–23: 6 in a row not effective', '18–21 D, 22 C, 23 W, 24 N'];
    lines.push('refer to design authority');
    for (const one of lines) await expect.poll(() => line.innerText()).toContain(one);
    await expect.poll(() => page.locator('.hole-row .rivet-head').count()).toBe(96);
    await picture(page, 'journey-rivet-line');
    // The worst run is the one enlarged; the keys go on along the line.
    const seven = page.locator('.seven-holes');
    await expect
      .poll(() => seven.locator('svg').first().getAttribute('aria-label'))
      .toContain('20 drilled out');
    await seven.scrollIntoViewIfNeeded();
    await picture(page, 'journey-seven-holes');
    await seven.getByRole('button', { name: '24–30' }).click();
    await expect.poll(() => seven.innerText()).toContain('HOLES 24–30 ENLARGED');
    expect(await problemsInBothLights(page)).toEqual([]);
  });

  it('decides what may be the same defect twice, and takes every decision back', async () => {
    const page = await desk(stage, 'Lead');
    await page.goto('/questions');
    await expect
      .poll(() => page.locator('.question-list').innerText())
      .toContain('Same defect? A/0008 and B/0019');
    await expect
      .poll(() => page.getByRole('link', { name: /Questions/ }).innerText())
      .toContain('· 1');
    expect(await problemsInBothLights(page)).toEqual([]);
    await picture(page, 'journey-questions');
    await key(page, /^Open A\/0008/).click();
    await page.waitForURL('**/defects/A0008');
    await expect.poll(() => asked(page)).toContain('B/0019 lies 0.2 in aft.');
    await expect.poll(() => page.locator('.pair-picture img').count()).toBe(2);
    await expect.poll(() => asked(page)).toContain('both are starboard');
    await picture(page, 'journey-same-defect');
    expect(await problemsInBothLights(page)).toEqual([]);
    await key(page, 'Same defect').click();
    await expect.poll(() => sheet(page)).toContain('B/0019 was decided to be the same as A/0008.');
    await key(page, /^Undo: B\/0019/).click();
    await expect.poll(() => asked(page)).toContain('Same defect?');
    await key(page, 'Two defects').click();
    await expect.poll(() => sheet(page)).toContain('They were decided to be two defects.');
    await key(page, /^Undo: They/).click();
    await key(page, 'Decide later').click();
    await expect.poll(() => asked(page)).toContain('Reject');
    await page.goto('/questions');
    await expect
      .poll(() => page.locator('.question-list').innerText())
      .toContain('A/0008 and B/0019 · put off');
    await sent(page);
  });

  it('decides a wrong hand, with the record that was entered there set aside', async () => {
    const page = await desk(stage, 'Lead');
    await page.goto('/defects/B0016');
    await key(page, 'Back').click();
    await page.getByLabel('Reason').fill('asked again');
    await page.locator('.record-asked .strip-keys').getByRole('button', { name: 'Back' }).click();
    await expect.poll(() => state(page)).toBe('RAISED');
    await expect.poll(() => asked(page)).toContain('B/0016 lies on the other hand');
    await expect.poll(() => asked(page)).toContain('on two hands');
    await key(page, 'Wrong hand').click();
    await picture(page, 'journey-wrong-hand');
    await key(page, /^B\/0016 is the wrong one/).click();
    await expect.poll(() => state(page)).toBe('RAISED IN ERROR');
    await key(page, 'History').click();
    await expect.poll(() => sheet(page)).toContain('wrong hand entered: A/0011 is starboard');
    await key(page, 'Record').click();
    await key(page, /^Undo: B\/0016/).click();
    await expect.poll(() => state(page)).toBe('RAISED');
  });

  it('assesses, overrules with reason and stamp, puts off and sends the inspector back', async () => {
    const page = await desk(stage, 'Lead', '/api/sign-in');
    const form = page.locator('.record-asked');
    await record(page, 'A/0003');
    await key(page, 'Start work').click();
    await expect.poll(() => state(page)).toBe('IN WORK');
    await key(page, 'Re-assess').click();
    await form.getByRole('button', { name: 'Re-assess' }).click();
    await page.getByRole('alert').waitFor();
    await page.getByLabel('Reason').fill('the patch needs a drawing first');
    await form.getByRole('button', { name: 'Re-assess' }).click();
    await expect.poll(() => state(page)).toBe('ASSESSED');

    await key(page, 'Defer').click();
    await form.getByRole('button', { name: 'Defer' }).click();
    await expect.poll(() => form.innerText()).toContain('It is put off to nothing.');
    await form.getByRole('button', { name: /^Stage 4/ }).click();
    await page.getByLabel('Look again by').fill('2026-03-01');
    await form.getByRole('button', { name: 'no limit' }).click();
    await page.getByLabel('Authority').fill('Lead');
    await page.getByLabel('Reason').fill('no drawing before then');
    await picture(page, 'journey-defer');
    expect(await problemsInBothLights(page)).toEqual([]);
    await form.getByRole('button', { name: 'Defer' }).click();
    await expect.poll(() => state(page)).toBe('DEFERRED');
    await expect
      .poll(() => sheet(page))
      .toContain(
        'Deferred to Stage 4 · look again by 2026-03-01 · limit: no limit · why: no drawing before then · authority: Lead',
      );
    await expect.poll(() => sheet(page)).toContain('deferred, before Stage 4');

    await record(page, 'A/0005');
    await key(page, /^More/).click();
    await key(page, 'Overrule the grade').click();
    await form.getByRole('button', { name: '2 moderate' }).click();
    await page.getByLabel('Reason').fill('blended in 1952, metal measured again');
    await page.getByLabel('Your passcode, for the stamp').fill('000000');
    await form.getByRole('button', { name: 'Overrule the grade' }).click();
    await page.getByRole('alert').waitFor();
    await page.getByLabel('Your passcode, for the stamp').fill(demoPerson('Lead').passcode);
    await form.getByRole('button', { name: 'Overrule the grade' }).click();
    await expect.poll(() => sheet(page)).toContain('Grade 2 (assessed 3)');
    await expect
      .poll(() => sheet(page))
      .toContain(
        'Grade 2, overruled by the lead 2025-11-03: blended in 1952, metal measured again · the standard gives Grade 3',
      );
    await key(page, /^Stamps/).click();
    await page.getByRole('img', { name: /^Stamp: OVERRULE/ }).waitFor();
    await expect
      .poll(() => page.locator('.stamps').innerText())
      .toContain('not electronically signed');

    await record(page, 'B/0017');
    await key(page, 'Look again').click();
    await form.getByRole('button', { name: 'Tablet B' }).click();
    await page.getByLabel('What to look at or measure').fill('depth after cleaning, wide picture');
    await form.getByRole('button', { name: 'Look again' }).click();
    await expect
      .poll(() => sheet(page))
      .toContain('tablet B: depth after cleaning, wide picture · not answered yet');
    await sent(page);
  });

  it('says that the record shown is not among those found, and keeps its head over a form', async () => {
    const page = await desk(stage, 'Lead');
    await record(page, 'A/0002');
    await page.getByLabel(/^Find/).fill('crack');
    const note = page.getByText(/^A\/0002 is not among the \d+ found\.$/);
    await note.waitFor();
    await key(page, /^Open [A-Z]\/\d{4}, the first$/).click();
    await expect.poll(() => note.count()).toBe(0);
    await record(page, 'A/0002');
    await key(page, 'Defer').click();
    await page.locator('.head-picture img').waitFor();
    const faults = async () => {
      const head = await page.locator('.record-head').boundingBox();
      const form = await page.locator('.move-form').boundingBox();
      if (!head || !form) return ['not there'];
      const told = head.y < 0 ? [`head cut off: ${head.y}`] : [];
      if (head.y + head.height >= form.y) told.push('the form lies over the head');
      return form.y + form.height < 800 ? told : [...told, 'the form goes on below'];
    };
    await expect.poll(faults).toEqual([]);
    for (const part of ['h1', '.record-what', '.record-state', '.head-picture'])
      await expect.poll(() => page.locator(`.record-head ${part}`).isVisible()).toBe(true);
  });

  it('chooses between two values, the worse of which counts till then', async () => {
    const pages = [await desk(stage, 'Lead'), await desk(stage, 'Lead')];
    for (const [at, page] of pages.entries()) {
      await record(page, 'A/0010');
      await page.context().setOffline(true);
      await key(page, 'Look again').click();
      await key(page, 'Tablet A').click();
      await page
        .getByLabel('What to look at or measure')
        .fill(['left side', 'right side'][at] ?? '');
      await page.locator('.record-asked').getByRole('button', { name: 'Look again' }).click();
      await expect.poll(() => sheet(page)).toContain('not answered yet');
    }
    const [first, second] = pages as [Page, Page];
    for (const page of pages) await page.context().setOffline(false);
    for (const page of [first, second, first]) {
      await key(page, /^SEND NOW/).click();
      await sent(page);
    }
    await expect.poll(() => asked(first)).toContain('Two values – choose');
    await picture(first, 'journey-two-values-book');
    expect(await problemsInBothLights(first)).toEqual([]);
    await first.getByLabel('Reason for the choice').fill('the left side shows it');
    await first.getByRole('button', { name: /Choose ask left side/ }).click();
    await expect.poll(() => asked(first)).not.toContain('Two values');
    await expect.poll(() => sheet(first)).toContain('tablet A: left side');
  });

  it('stands on an upright sheet too', async () => {
    const { page } = await stage.open('airframe');
    await signIn(page, 'Lead');
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL(/\/defects/);
    await page.getByText('A/0002').first().waitFor({ timeout: WHOLE_MS });
    await record(page, 'A/0008');
    await page.locator('.record-figures').waitFor();
    const wide = () => page.evaluate(() => document.documentElement.scrollWidth);
    await expect.poll(wide).toBeLessThanOrEqual(800);
    await picture(page, 'journey-defect-book-upright');
    expect(await problemsInBothLights(page)).toEqual([]);
  });
});

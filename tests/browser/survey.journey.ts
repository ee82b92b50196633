import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { demoPerson, enrol, madePicture, sent, session, signIn, waiting } from './acts';
import { accessibilityProblems, picture, type Size, useStage, waitForOffline } from './harness';
import type { Server } from './server';

const SIZES: Size[] = ['airframe', 'airframe wide'];
const LIGHTS = ['outside', 'inside'] as const;

const key = (page: Page, name: RegExp) => page.getByRole('button', { name });
const bar = (page: Page) => page.locator('.position-bar');
const grade = (page: Page) => page.locator('.grade-block h2');

/** What a page is checked for: no fault of accessibility in either light, and a picture of each. */
async function looked(page: Page, name: string): Promise<void> {
  for (const light of LIGHTS) {
    await page.evaluate((chosen) => {
      document.documentElement.dataset.light = chosen;
    }, light);
    expect(await accessibilityProblems(page), `${name}, ${light}`).toEqual([]);
    await picture(page, `survey-${name}-${light}`);
  }
  await page.evaluate(() => {
    document.documentElement.dataset.light = 'outside';
  });
}

/** Hands a picture to the camera that a key opens, and waits until it is stored and shown. */
async function takenBy(page: Page, press: RegExp): Promise<string> {
  const made = await madePicture(page);
  const chooser = page.waitForEvent('filechooser');
  await key(page, press).click();
  await (await chooser).setFiles({ name: 'taken.jpg', mimeType: 'image/jpeg', buffer: made });
  await page.waitForURL(/\/airframe\/[A-Z]+\d{4}\/photograph\//);
  await page.getByText('picture, stored on this tablet').waitFor();
  return new URL(page.url()).pathname.split('/')[2] ?? '';
}

/** Steps aft until the bay begins at a member, then sets how far aft of it. */
async function goTo(page: Page, member: string, aft: string): Promise<void> {
  for (let step = 0; step < 12; step += 1) {
    if (new RegExp(`\\n${member}[–\\n]`).test(await bar(page).innerText())) break;
    const before = await bar(page).innerText();
    await key(page, /^AFT/).click();
    await expect.poll(() => bar(page).innerText()).not.toBe(before);
  }
  await page.locator('.position-cell', { hasText: 'zone' }).click();
  for (const figure of aft)
    await page
      .getByRole('button', { name: figure === '.' ? 'point' : figure, exact: true })
      .click();
  await key(page, /^SET/).click();
  await expect.poll(() => bar(page).innerText()).toContain(`${member} + ${aft} aft`);
}

async function changePerson(page: Page, name: string): Promise<void> {
  await page.goto('/airframe');
  await key(page, /^MORE/).click();
  await key(page, /^CHANGE\s+PERSON/).click();
  await key(page, new RegExp(`^${name}`)).click();
  for (const figure of demoPerson(name).passcode)
    await page.getByRole('button', { name: figure, exact: true }).click();
  await key(page, /^SIGN IN/).click();
  await page.waitForURL((url) => url.pathname !== '/');
}

/** The row of a record as the server has it. */
async function rowOf(server: Server, number: string) {
  const cookie = await session(server, 'Lead');
  const answer = await fetch(`${server.address}/api/defects/${number}`, { headers: { cookie } });
  const rows = (await answer.json()) as Record<string, unknown>[];
  expect(rows).toHaveLength(1);
  return rows[0] ?? {};
}

const written = (number: string) => number.replace(/(?=\d{4}$)/, '/');

describe.each(SIZES)('a survey of two bays with the server away, %s', (size) => {
  const stage = useStage('demo');
  const name = (screen: string) => `${screen}-${size === 'airframe' ? 'upright' : 'wide'}`;

  it('is recorded, put right, handed over and joined', async () => {
    const { page } = await stage.open(size);
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 2');
    await page.getByText(/SHELL EXPANSION/).waitFor();

    // The day's survey and paint, while the server can still be reached.
    await key(page, /^MORE/).click();
    await looked(page, name('more'));
    await key(page, /^SURVEY/).click();
    await key(page, /^START ONE/).click();
    await key(page, /^PAINT/).click();
    await key(page, /^BACK/).click();
    await expect.poll(() => page.locator('.title-block').innerText()).toContain('SV-7');

    // Last time's picture comes with the place, and stays when the server is gone.
    await goTo(page, 'F6', '2');
    await page.getByText('A/0002 last time').waitFor();
    await looked(page, name('airframe'));
    await stage.server.kill();
    await page.reload();
    await page.getByText('A/0002 last time').waitFor();
    await expect.poll(() => bar(page).innerText()).toContain('F6 + 2 aft');

    // Bay 1, F6–F7 to port: the first pit. Touches are counted from the photograph on.
    const first = await takenBy(page, /^SHUTTER/);
    // The picture takes what room scale and head leave it, and all of it is seen.
    const sizes = async () => {
      const [room, shown] = await page
        .locator('.picture-room, .detail-picture > img')
        .evaluateAll((boxes) => boxes.map((box) => box.getBoundingClientRect().toJSON()));
      return { is_large: shown?.height > 340, is_whole: shown?.bottom <= room?.bottom + 1 };
    };
    await expect.poll(sizes).toEqual({ is_large: true, is_whole: true });
    await looked(page, name('photograph'));
    const touches = await countTouches(page);
    await key(page, /^MEASURE/).click();
    await key(page, /^Pitting/).click();
    // Instrument once a day: asked here, before the first depth, and not again.
    await key(page, /^DG-1/).click();
    const once = 1;
    await page.getByRole('button', { name: /^0\.0/ }).click();
    for (const figure of '12')
      await page.getByRole('button', { name: figure, exact: true }).click();
    await looked(page, name('depth'));
    await key(page, /^Next:/).click();
    await page.getByRole('button', { name: 'yes', exact: true }).click();
    await expect.poll(() => grade(page).innerText()).toBe('Grade 3 severe');
    const figures = 2; // The figure took three keys; a typed number counts as one touch.
    const counted = (await touches()) - once - figures;
    console.log(`a pit graded after its photograph, ${size}: ${counted} touches`);
    expect(counted).toBeLessThanOrEqual(6);
    await expect
      .poll(() => page.locator('.figure-cell', { hasText: 'Depth' }).innerText())
      .toContain('DG-1, in date');
    await passBy(page);
    await looked(page, name('raise'));
    await key(page, /^Cautions in full/).click();
    await expect.poll(() => page.locator('.raise-cautions').innerText()).toContain('never alone');
    await key(page, /^RAISE/).click();
    await page.getByText(`${written(first)} is raised and stored.`).waitFor();

    // The second by SAME AGAIN: one bay aft, what was seen, not what was measured.
    await expect.poll(() => key(page, /^SAME/).innerText()).toContain(written(first));
    const second = await takenBy(page, /^SAME\s+AGAIN/);
    await key(page, /^MEASURE/).click();
    // What was measured there is a hint here: the grade waits until it is measured here too.
    await expect.poll(() => grade(page).innerText()).toBe('Not graded ?');
    const hint = page.locator('.figure-cell', { hasText: 'Depth' });
    await expect.poll(() => hint.innerText()).toContain(`as ${written(first)}, not measured here`);
    expect(await hint.innerText()).not.toContain('DG-1');
    const unfinished = page.locator('.figure-cell', { hasText: 'Still to finish' });
    await expect.poll(() => unfinished.innerText()).toContain('figures');
    await looked(page, name('again'));
    await expect.poll(() => page.locator('.measure-where').innerText()).toContain('F7');
    await page.getByRole('button', { name: /^0\.0/ }).click();
    for (const figure of '12')
      await page.getByRole('button', { name: figure, exact: true }).click();
    await key(page, /^Next:/).click();
    await page.getByRole('button', { name: 'yes', exact: true }).click();
    await expect.poll(() => grade(page).innerText()).toBe('Grade 3 severe');
    await passBy(page);
    await key(page, /^RAISE/).click();
    await page.getByText(`${written(second)} is raised and stored.`).waitFor();
    // How is asked before the first look of the day; the paint was said in the morning.
    await expect.poll(() => key(page, /^LOOKED AT/).innerText()).toContain('asks first how');
    await key(page, /^LOOKED AT/).click();
    await page.getByText('how was it looked at?').waitFor();
    await looked(page, name('how'));
    await key(page, /^eye/).click();
    await expect.poll(() => waiting(page)).toContain('1 bay');
    await expect.poll(() => key(page, /^LOOKED AT/).innerText()).toContain('eye, paint on');
    await expect.poll(() => key(page, /^LOOKED AT/).innerText()).toContain('NOTHING MORE FOUND');
    await expect.poll(() => key(page, /^LOOKED AT/).innerText()).toContain(`${written(second)}`);

    // Bay 2, F5–F6 to starboard: the mirror of what is there to port. Asked at once, and moved.
    await key(page, /^FWD/).click();
    await key(page, /^FWD/).click();
    await goTo(page, 'F5', '6.5');
    await key(page, /^TO CHINE/).click();
    await page.locator('.position-cell', { hasText: 'Hand' }).click();
    await expect.poll(() => bar(page).innerText()).toContain('Starboard');
    const third = await takenBy(page, /^SHUTTER/);
    await key(page, /^MEASURE/).click();
    await key(page, /^Pitting/).click();
    await page.getByText('Same place, other hand – sure?').waitFor();
    await looked(page, name('hand'));
    await key(page, /^MOVE .* TO PORT/).click();
    const where = page.locator('.measure-where');
    await expect.poll(() => where.innerText()).toContain('Port');

    // Undo twice: the move, then the kind. A reload in between forgets neither step.
    await key(page, /^UNDO/).click();
    await expect.poll(() => where.innerText()).toContain('Stbd');
    await page.reload();
    await page.getByText('Same place, other hand – sure?').waitFor();
    await key(page, /^LATER/).click();
    await expect.poll(() => key(page, /^UNDO/).innerText()).toContain('the kind');
    // Before the kind the picture was taken: a ring that nobody placed was not kept.
    await key(page, /^UNDO/).click();
    await expect.poll(() => key(page, /^UNDO/).innerText()).toContain('picture');

    // Change of person: the draft is seen, and is still its author's.
    await changePerson(page, 'Inspector 1');
    await page.goto('/airframe');
    await key(page, /^MORE/).click();
    await key(page, /^STILL TO\s+FINISH/).click();
    const draft = page.locator('.choices .key', { hasText: written(third) });
    await expect.poll(() => draft.innerText()).toContain('Inspector 2');
    await looked(page, name('finish'));
    await changePerson(page, 'Inspector 2');
    await page.goto(`/airframe/${third}`);
    await key(page, /^Pitting/).click();
    await key(page, /^MOVE .* TO PORT/).click();
    await expect.poll(() => where.innerText()).toContain('Port');
    // The instrument was asked once: the pad is there without a question.
    for (const figure of ['0.0', '4'])
      await page
        .getByRole('button', { name: new RegExp(`^${figure.replace('.', '\\.')}`) })
        .first()
        .click();
    await page.reload();
    await expect.poll(() => page.locator('.figure-cell.active').innerText()).toContain('0.04');
    await key(page, /^Next:/).click();
    await page.getByRole('button', { name: 'not yet', exact: true }).click();
    await passBy(page);
    await key(page, /^RAISE/).click();
    await page.getByText(`${written(third)} is raised and stored.`).waitFor();
    await key(page, /^LOOKED AT/).click();
    await expect.poll(() => waiting(page)).toContain('2 bays');

    // Joined: everything goes, once, and the server says what the tablet said.
    await stage.server.restart();
    await page.reload();
    await sent(page);
    await page.goto('/waiting');
    await looked(page, name('waiting'));
    await expect
      .poll(() => rowOf(stage.server, first))
      .toMatchObject({
        grade: 3,
        hand: 'P',
        state: 'Raised',
      });
    await expect
      .poll(() => rowOf(stage.server, second))
      .toMatchObject({
        grade: 3,
        station: '85',
        photographs: 1,
      });
    await expect
      .poll(() => rowOf(stage.server, third))
      .toMatchObject({
        hand: 'P',
        station: '63.5',
        kind: 'pitting',
      });
  });
});

/** NEXT until the last keys are there: length and width are left for the bench. */
async function passBy(page: Page): Promise<void> {
  const last = page.locator('.raise-last');
  const next = page.getByRole('button', { name: /^Next:/ });
  for (let asked = 0; asked < 6; asked += 1) {
    await next.or(last).first().waitFor();
    if ((await last.count()) > 0) return;
    // The key can be gone by now, for the one before was the last.
    await next.click({ timeout: 5000 }).catch(() => undefined);
  }
  await last.waitFor();
}

/** Counts the touches from here on, as the page itself sees them. */
async function countTouches(page: Page): Promise<() => Promise<number>> {
  await page.evaluate(() => {
    const counter = window as unknown as { touches: number };
    counter.touches = 0;
    document.addEventListener('click', () => (counter.touches += 1), { capture: true });
  });
  return () => page.evaluate(() => (window as unknown as { touches: number }).touches);
}

// A place in full: typed in trade notation, from one end to another, hole by hole, by its bay.
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { enrol, photograph, session, signIn } from './acts';
import { accessibilityProblems, picture, type Server, useStage, waitForOffline } from './harness';

const key = (page: Page, name: string | RegExp) =>
  page.getByRole('button', typeof name === 'string' ? { name, exact: true } : { name });
const read = (page: Page) => page.locator('.place-read');

/** A new issue of the demo's definition that has a bench, issued by the lead. */
async function issueBench(server: Server): Promise<void> {
  const headers = {
    'content-type': 'application/json',
    origin: server.address,
    cookie: await session(server, 'Lead'),
  };
  const get = async (path: string) => (await fetch(`${server.address}${path}`, { headers })).json();
  const [airframe] = (await get('/api/airframes')) as { record: string }[];
  const path = `/api/airframes/${airframe?.record}/definition`;
  const stands = (await get(`${path}.json`)) as Record<string, unknown>;
  const definition = { ...stands, issue: '2', off_aircraft: [{ name: 'Bench 2' }] };
  const body = JSON.stringify({ definition, reason: 'A bench for parts taken off.' });
  const answer = await fetch(`${server.address}${path}`, { method: 'POST', headers, body });
  expect(answer.status, await answer.text()).toBeLessThan(300);
}

describe('the place in full', () => {
  const stage = useStage('demo');

  it('is typed, stretched, stepped hole by hole and known by its bay, without the server', async () => {
    const { page } = await stage.open('airframe');
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 1');
    await page.getByText(/SHELL EXPANSION/).waitFor();
    await stage.server.kill();
    await page.locator('.position-cell', { hasText: /zone 111/i }).click();
    await key(page, /^PLACE IN FULL/).click();
    const typed = page.getByLabel(/^Typed, such as/);
    await typed.fill('F99 + 2');
    await typed.press('Enter');
    await page.getByText('F99').first().waitFor();
    await expect.poll(() => read(page).innerText()).not.toContain('F99');
    await typed.fill('F6 + 2.0');
    await typed.press('Enter');
    await expect.poll(() => read(page).innerText()).toContain('F6 + 2.0 aft');
    await typed.fill('port · F6 + 2.0 · K–B1 · inner face');
    await typed.press('Enter');
    await expect
      .poll(() => read(page).innerText())
      .toBe('Hull · Port · F6 + 2.0 aft · K–B1 · inner face');
    await key(page, /^TO THE\s+NEXT BAY/).click();
    await expect.poll(() => read(page).innerText()).toContain('F6 + 2.0 aft to F7');
    expect(await accessibilityProblems(page)).toEqual([]);
    await picture(page, 'journey-place-in-full');
    await page.evaluate(() => document.documentElement.setAttribute('data-light', 'inside'));
    expect(await accessibilityProblems(page)).toEqual([]);
    await picture(page, 'journey-place-in-full-inside');
    await key(page, /^END,\s+HOW FAR/).click();
    for (const figure of ['1', 'point', '5'])
      await page.locator('.pad').getByRole('button', { name: figure, exact: true }).click();
    await page.getByRole('button', { name: /^SET|^Next:/ }).click();
    await expect.poll(() => read(page).innerText()).toContain('to F7 + 1.5 aft');
    await key(page, /^ONE SPOT/).click();
    await expect.poll(() => read(page).innerText()).not.toContain('to F7');
    await page.getByText('no rivet line gives a pitch').first().waitFor();
    await key(page, /^BAY ONLY/).click();
    await expect.poll(() => read(page).innerText()).toContain('bay only');
    await key(page, /^DONE/).click();
    await page.locator('.position-cell', { hasText: 'F6–F7' }).waitFor();
    await page.reload();
    await page.locator('.position-cell', { hasText: 'F6–F7' }).waitFor();
    // On the spar the rivet line found there says how far it is from hole to hole.
    await page.locator('.position-cell', { hasText: 'Structure' }).click();
    await key(page, 'Port wing').click();
    await page.locator('.position-cell', { hasText: /zone 5/i }).click();
    await key(page, /^PLACE IN FULL/).click();
    await typed.fill('R5');
    await typed.press('Enter');
    await key(page, /^ONE HOLE\s+OUTBD/).click();
    await expect.poll(() => read(page).innerText()).toContain('R5 + 1.125 outboard');
    await page.getByText('1.125 in, as RL-01').first().waitFor();
  });

  it('that reaches over several bays is drawn from wherever one looks, with a break where it goes on', async () => {
    await stage.server.restart();
    const { page } = await stage.open('airframe');
    await enrol(page, stage.server);
    await signIn(page, 'Inspector 1');
    await page.getByText(/SHELL EXPANSION/).waitFor();
    const go = async (place: string, shown: string) => {
      await page.locator('.position-cell', { hasText: /zone \d/i }).click();
      await key(page, /^PLACE IN FULL/).click();
      const typed = page.getByLabel(/^Typed, such as/);
      await typed.fill('port · F6 + 2.0 to F99');
      await typed.press('Enter');
      await page.getByRole('alert').getByText('Hull has no member called “F99”.').waitFor();
      await picture(page, 'place-refused');
      await typed.fill(place);
      await typed.press('Enter');
      await expect.poll(() => read(page).innerText()).toContain(shown);
      await key(page, /^DONE/).click();
      await page.getByText(/SHELL EXPANSION/).waitFor();
    };
    await go('port · F6 + 2.0 to F20 + 1.0 · K–B1 · inner face', 'to F20 + 1.0');
    const number = await photograph(page);
    await page.goto('/airframe');
    await page.getByText(/SHELL EXPANSION/).waitFor();
    const outline = () => page.locator('.reach').getAttribute('d');
    const broken = (d: string | null) => (d?.match(/L/g) ?? []).length / 3;
    for (const [place, breaks] of [
      ['F6 + 2.0', 1],
      ['F12 + 2.0', 2],
      ['F19', 1],
    ] as const) {
      await go(`port · ${place} · K–B1 · inner face`, place);
      await expect.poll(async () => broken(await outline())).toBe(breaks);
      const named = page.locator('.expansion text', {
        hasText: number.replace(/^([A-Z]+)/, '$1/'),
      });
      await expect.poll(() => named.count()).toBeGreaterThan(0);
      for (const light of ['outside', 'inside']) {
        await page.evaluate(
          (one) => document.documentElement.setAttribute('data-light', one),
          light,
        );
        for (const [width, height] of [
          [800, 1280],
          [1180, 820],
        ] as const) {
          await page.setViewportSize({ width, height });
          await picture(page, `reach-${place.slice(0, 3).trim()}-${width}-${light}`);
        }
      }
      await page.setViewportSize({ width: 800, height: 1280 });
    }
    await expect
      .poll(() => page.locator('.expansion text', { hasText: number.slice(-4) }).count())
      .toBe(1);
  });

  it('may be a bench off the aircraft, of a part by its own marking', async () => {
    await stage.server.restart();
    await issueBench(stage.server);
    const { page } = await stage.open('airframe');
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, 'Inspector 1');
    await page.getByText(/SHELL EXPANSION/).waitFor();
    await page.locator('.position-cell', { hasText: /zone 111/i }).click();
    await key(page, /^PLACE IN FULL/).click();
    await key(page, /^SHEET/).click();
    await expect.poll(() => read(page).innerText()).toContain('sheet 1');
    await key(page, /^OFF THE\s+AIRCRAFT/).click();
    await page.getByLabel(/^Part/).fill('Strut, port');
    await page.getByLabel(/^Marked on it/).fill('J-118');
    await expect
      .poll(() => read(page).innerText())
      .toBe('off aircraft, Bench 2 · Strut, port · marked J-118');
    await picture(page, 'journey-off-aircraft');
    const number = await photograph(page);
    await key(page, /^MEASURE/).click();
    await page.waitForURL(new RegExp(`/airframe/${number}$`));
    await page.getByText('off aircraft, Bench 2').first().waitFor();
    await key(page, 'Pitting').click();
    await key(page, 'Aluminium alloy').click();
    await page.getByText('Plate thickness').first().waitFor();
    await expect
      .poll(() => page.locator('.grade-block').first().innerText())
      .not.toMatch(/Material/);
    await picture(page, 'journey-off-aircraft-measure');
    expect(await accessibilityProblems(page)).toEqual([]);
    // A figure typed and left by way of the picture is kept, as by LATER.
    await page.locator('.pad').waitFor();
    for (const figure of ['5', 'RUB OUT', '6'])
      await page
        .locator('.pad')
        .getByRole('button', { name: new RegExp(`^${figure}`) })
        .first()
        .click();
    await page.locator('.measure-pictures a').first().click();
    await page.waitForURL(/\/photograph\//);
    await key(page, /^MEASURE/).click();
    await expect
      .poll(() => page.locator('.figure-cell', { hasText: 'Plate thickness' }).innerText())
      .toContain('6');
    // To its last keys: nothing of a bench has another hand to be asked of.
    const next = page.getByRole('button', { name: /^(Next:|NEXT|NOT\s+MEASURED)/ });
    const raise = key(page, /^RAISE/);
    for (let at = 0; at < 12 && (await raise.count()) === 0; at += 1) {
      await next.or(raise).first().waitFor();
      if ((await raise.count()) > 0) break;
      await next.first().click();
    }
    await raise.first().waitFor();
  });
});

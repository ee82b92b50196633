import { describe, expect, it } from 'vitest';
import { calm, enrol, letterOf, signIn } from './acts';
import { accessibilityProblems, type Device, picture, useStage } from './harness';

async function inBothLights({ page }: Device, name: string) {
  for (const light of ['inside', 'outside'] as const) {
    await page.evaluate((chosen) => {
      localStorage.setItem('skinpin.light', chosen);
      document.documentElement.dataset.light = chosen;
    }, light);
    await picture(page, `${name}-${light}`);
    expect(await accessibilityProblems(page)).toEqual([]);
  }
}

describe('the lead at the desk', () => {
  const stage = useStage('demo');

  it('ends a tablet, which says so and keeps what waits, and lets it in again by a code', async () => {
    const tablet = await stage.open('airframe');
    tablet.expected.push('401');
    await enrol(tablet.page, stage.server);
    await signIn(tablet.page, 'Inspector 1');
    const desk = await stage.open('desk');
    await signIn(desk.page, 'Lead');
    await desk.page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await desk.page.waitForURL('**/defects');
    await desk.page.goto('/people');
    await expect
      .poll(() => desk.page.getByRole('row', { name: /^Tablet/ }).count())
      .toBeGreaterThan(0);
    await calm(desk.page);
    await inBothLights(desk, 'people');
    const letter = await letterOf(tablet.page);
    await desk.page.getByRole('button', { name: `END THIS DEVICE: Tablet ${letter}` }).click();
    await desk.page.getByLabel(/^Reason/).fill('left on the ferry');
    await inBothLights(desk, 'people-end');
    await desk.page.getByRole('button', { name: /^END THIS DEVICE$/ }).click();
    await expect
      .poll(() => desk.page.getByText('was ended by a lead: left on the ferry.').count())
      .toBe(1);
    await tablet.page.goto('/');
    await tablet.page.getByText('left on the ferry').first().waitFor();
    await expect.poll(() => tablet.page.getByText('left on the ferry').count()).toBe(1);
    await inBothLights(tablet, 'sign-in-ended');
    await desk.page.getByRole('button', { name: /^GIVE A CODE/ }).click();
    const code = await desk.page.locator('.people-code-letters').innerText();
    await tablet.page.getByRole('button', { name: /^ENROL AGAIN/ }).click();
    await tablet.page.getByLabel('One-time code').fill(code);
    await tablet.page.getByRole('button', { name: /^ENROL AS A TABLET/ }).click();
    await tablet.page.waitForURL((url) => url.pathname !== '/enrol');
    await tablet.page.goto('/waiting');
    await expect.poll(() => tablet.page.getByText('Nothing waiting').count()).toBeGreaterThan(0);
  });

  it('writes a new person, changes the role, withdraws it; the person is out', async () => {
    const desk = await stage.open('desk');
    const { page } = desk;
    desk.expected.push('403');
    await signIn(page, 'Lead');
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL('**/defects');
    await page.goto('/people');
    await calm(page);
    await page.getByRole('button', { name: /^NEW PERSON/ }).click();
    await page.getByLabel('Name or initials').fill('Fitter 9');
    await page.getByRole('button', { name: 'fitter', exact: true }).click();
    await page.getByLabel(/^First passcode/).fill('271828');
    await inBothLights(desk, 'people-new');
    await page.getByRole('button', { name: /^WRITE INTO THE BOOK/ }).click();
    const row = page.getByRole('row', { name: /^Fitter 9/ });
    await expect.poll(() => row.innerText()).toContain('fitter');
    await page.getByRole('button', { name: /^ROLE of Fitter 9/ }).click();
    await page.getByRole('button', { name: 'inspector', exact: true }).click();
    await page.getByLabel('Reason').fill('passed the course');
    await inBothLights(desk, 'people-role');
    await page
      .getByRole('button', { name: /^GIVE ROLE/ })
      .first()
      .click();
    await expect.poll(() => row.innerText()).toContain('inspector');
    await page.getByRole('button', { name: /^ROLE of Fitter 9/ }).click();
    await page.getByLabel('Reason').fill('left the workshop');
    await page.getByRole('button', { name: /^WITHDRAW ROLE/ }).click();
    await expect.poll(() => row.innerText()).toContain('no role now');
    await page.goto('/');
    await page.getByRole('button', { name: /^Fitter 9/ }).click();
    for (const figure of '271828')
      await page.getByRole('button', { name: figure, exact: true }).click();
    await page.getByRole('button', { name: /^SIGN IN/ }).click();
    await page.getByText('Fitter 9 has no role in this book any more').waitFor();
    await inBothLights(desk, 'sign-in-no-role');
  });
});

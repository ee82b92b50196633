import { describe, expect, it } from 'vitest';
import { accessibilityProblems, useStage, waitForOffline } from './harness';

describe('the page', () => {
  const stage = useStage('demo');

  it('comes with a policy that allows no foreign and no inline style or script', async () => {
    const answer = await fetch(stage.server.address);
    const policy = answer.headers.get('content-security-policy') ?? '';
    expect(answer.status).toBe(200);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self';");
    expect(policy).toContain("style-src 'self';");
    expect(policy).not.toContain('unsafe-inline');
    expect(policy).not.toContain('unsafe-eval');
  });

  it('opens at the sign-in and has no accessibility problem', async () => {
    const { page } = await stage.open('airframe');
    await page.goto('/');
    await page.getByRole('heading').first().waitFor();
    expect(await accessibilityProblems(page)).toEqual([]);
  });

  it.each([
    [800, 1280],
    [1280, 800],
    [1024, 600],
    [800, 900],
  ])('has the whole passcode pad in sight at %i × %i', async (width, height) => {
    const { page } = await stage.open('airframe');
    await page.setViewportSize({ width, height });
    await page.goto('/');
    await page.getByRole('button', { name: /^Inspector 1/ }).click();
    const keys = page.locator('.passcode .key');
    await keys.last().waitFor();
    for (const key of await keys.all()) {
      const box = await key.boundingBox();
      expect(box?.height).toBeGreaterThanOrEqual(48);
      expect(box?.y).toBeGreaterThanOrEqual(0);
      expect((box?.y ?? 0) + (box?.height ?? 0)).toBeLessThanOrEqual(height);
    }
    await expect
      .poll(() => page.evaluate(() => document.documentElement.scrollHeight))
      .toBe(height);
  });

  it('opens again with the server killed, once its worker is in control', async () => {
    const { page } = await stage.open('airframe');
    await page.goto('/');
    await waitForOffline(page);
    const title = await page.title();
    await stage.server.kill();
    await page.reload();
    await page.getByRole('heading').first().waitFor();
    expect(await page.title()).toBe(title);
    await stage.server.restart();
  });

  it('notes a console error, so that a journey cannot pass over one', async () => {
    const device = await stage.open('desk');
    await device.page.goto('/');
    await device.page.evaluate(() => console.error('planted 17'));
    await device.page.evaluate(() => {
      const style = document.createElement('style');
      style.textContent = 'body { color: red }';
      document.head.append(style);
    });
    const words = () => device.problems.join('\n');
    await expect.poll(words).toContain('policy breach: style-src');
    expect(words()).toContain('planted 17');
    device.problems.length = 0;
  });
});

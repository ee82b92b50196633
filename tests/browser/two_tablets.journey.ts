import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { enrol, photograph, sendNow, sent, session, signIn, typeFigure, waiting } from './acts';
import { picture, useStage, waitForOffline } from './harness';

describe('two tablets that worked apart', () => {
  const stage = useStage('demo');

  async function tablet(name: string): Promise<Page> {
    const { page, expected } = await stage.open('airframe');
    // A record may come before the bytes of its photograph: that is no fault.
    expected.push('/api/photographs/');
    await enrol(page, stage.server);
    await waitForOffline(page);
    await signIn(page, name);
    await page.getByText(/SHELL EXPANSION/).waitFor();
    return page;
  }

  /** The row of a record as the server has it. */
  async function rowOf(number: string) {
    const headers = { cookie: await session(stage.server, 'Lead') };
    const answer = await fetch(`${stage.server.address}/api/defects/${number}`, { headers });
    if (!answer.ok) return undefined;
    return ((await answer.json()) as { two_values: string[]; number: string; kind: string }[])[0];
  }

  it('agree with each other and the server, and show the field both edited', async () => {
    const first = await tablet('Inspector 1');
    const second = await tablet('Inspector 2');
    const number = await photograph(first);
    await first.getByRole('button', { name: /^MEASURE/ }).click();
    await first.getByRole('button', { name: 'Pitting', exact: true }).click();
    await expect.poll(async () => (await rowOf(number))?.kind, { timeout: 60_000 }).toBe('pitting');
    await sent(first);
    await sendNow(second);
    await second.goto(`/defects/${number}`);
    await second
      .getByRole('heading', { name: `${number[0]}/${number.slice(1)}` })
      .waitFor({ timeout: 40_000 });

    // Both measure the same pit with the server away.
    await stage.server.kill();
    await first.goto(`/airframe/${number}`);
    await first.locator('.figure-cell', { hasText: 'Length' }).click();
    await typeFigure(first, '5.5');
    await second.goto(`/airframe/${number}`);
    await second.locator('.figure-cell', { hasText: 'Length' }).click();
    await typeFigure(second, '5.8');
    for (const page of [first, second])
      await expect.poll(() => waiting(page)).toMatch(/^1 record waiting/);
    await stage.server.restart();
    await sendNow(first);
    await sendNow(second);

    const desk = (await stage.open('desk')).page;
    await desk.goto('/');
    await signIn(desk, 'Lead');
    await desk.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await desk.waitForURL(/\/defects/);
    await desk.goto(`/defects/${number}`);
    await desk.getByText('Two values – choose').waitFor({ timeout: 40_000 });
    await picture(desk, 'journey-two-values');
    await desk.getByLabel('Reason for the choice').fill('measured again with the rule');
    await desk.getByRole('button', { name: /^Choose 5\.8 in/ }).click();
    await expect.poll(() => desk.getByText('Two values – choose').count()).toBe(0);
    await sent(desk);

    // The server comes to the same: asked over the wire, not over the screen.
    await expect.poll(async () => (await rowOf(number))?.two_values).toEqual([]);
    expect((await rowOf(number))?.number).toBe(`${number[0]}/${number.slice(1)}`);
  });
});

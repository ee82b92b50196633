// Not a test of anything but that every screen can be shown: pictures of each, in both lights.
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { describe, expect, inject, it } from 'vitest';
import { ROUTES } from '../../frontend/src/routes';
import { enrol, signIn } from './acts';
import { type Device, picture, useStage } from './harness';

const TABLET = ['/', '/enrol', '/airframe', '/airframe/A0002', '/waiting', '/take'];
const DESK = [
  '/defects',
  '/defects/A0002',
  '/defects/A0008',
  '/questions',
  '/assessment',
  '/assessment/A0016',
  '/stages',
  '/figures',
  '/reports',
  '/people',
  '/airframes',
  '/airframes/2603/members',
  '/airframes/2603/zones',
  '/airframes/2603/issue',
  '/standards',
  '/tablets',
];
const ANYBODY = ['/sheet-furniture'];
const LIGHTS = ['outside', 'inside'] as const;

async function setLight(page: Page, light: (typeof LIGHTS)[number]) {
  await page.evaluate((chosen) => localStorage.setItem('skinpin.light', chosen), light);
}

async function show(device: Device, addresses: string[]) {
  for (const light of LIGHTS) {
    await setLight(device.page, light);
    for (const address of addresses) {
      await device.page.goto(address);
      await device.page.waitForLoadState('networkidle');
      await picture(device.page, `${address.slice(1).replaceAll('/', '-') || 'sign-in'}-${light}`);
    }
  }
}

describe('screenshots', () => {
  const demo = useStage('demo');
  const empty = useStage('empty');

  it('of the tablet', async () => {
    const tablet = await demo.open('airframe');
    await enrol(tablet.page, demo.server);
    await signIn(tablet.page, 'Inspector 1');
    await show(tablet, TABLET);
  });

  it('of the desk', async () => {
    const desk = await demo.open('desk');
    await signIn(desk.page, 'Lead');
    await desk.page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await desk.page.waitForURL('**/defects');
    await show(desk, [...DESK, ...ANYBODY]);
  });

  it('of an empty book', async () => {
    const desk = await empty.open('desk');
    await desk.page.goto('/');
    await show(desk, ['/set-up']);
  });

  it('leave no address of the app out', () => {
    const shown = readdirSync(join(inject('root'), 'screenshots'));
    const first = (pattern: string) => pattern.split('/')[1] || 'sign-in';
    const missing = ROUTES.map((route) => first(route.pattern)).filter(
      (name) => !shown.some((file) => file.startsWith(name)),
    );
    expect(missing).toEqual([]);
  });
});

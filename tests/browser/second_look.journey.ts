// What comes back to a record after it was first seen: looked at again, graded again, measured again.
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { describe, expect, inject, it } from 'vitest';
import {
  enrol,
  passQuestions,
  photograph,
  sendNow,
  sent,
  session,
  signIn,
  typeFigure,
} from './acts';
import { picture, type Server, type Stage, useStage, waitForOffline } from './harness';

const WHOLE_MS = 40_000;
/** Other programs may be at work: what comes, comes within this time. */
const eventually = <T>(read: () => T | Promise<T>) => expect.poll(read, { timeout: WHOLE_MS });
const key = (page: Page, name: string | RegExp) =>
  page.getByRole('button', typeof name === 'string' ? { name, exact: true } : { name });
const sheet = (page: Page) => page.locator('.record').innerText();
const grade = (page: Page) => page.locator('.grade-block').first().innerText();

async function desk(stage: Stage): Promise<Page> {
  const { page } = await stage.open('desk');
  await signIn(page, 'Lead');
  await key(page, /^USE AS A DESK/).click();
  await page.waitForURL(/\/defects/);
  await page.getByText('A/0002').first().waitFor({ timeout: WHOLE_MS });
  await sent(page);
  return page;
}

async function tablet(stage: Stage, name: string): Promise<Page> {
  const { page, expected } = await stage.open('airframe');
  // A record may come before the bytes of its photograph: that is no fault.
  expected.push('/api/photographs/');
  await enrol(page, stage.server);
  await waitForOffline(page);
  await signIn(page, name);
  await page.getByText(/SHELL EXPANSION/).waitFor({ timeout: WHOLE_MS });
  return page;
}

async function record(page: Page, number: string): Promise<void> {
  await page.goto(`/defects/${number.replace('/', '')}`);
  await page.getByRole('heading', { name: number }).waitFor({ timeout: WHOLE_MS });
}

/** Presses NEXT until what is looked for is there. */
async function nextUntil(page: Page, wanted: Locator): Promise<void> {
  const keys = page.locator('.kind-keys, .pad, .choice-keys, .raise-keys');
  for (let pressed = 0; pressed < 15; pressed += 1) {
    await keys.or(wanted).first().waitFor();
    if ((await wanted.count()) > 0) return;
    const keyRow = page.locator('.sheet-keys');
    const before = await keyRow.innerText();
    // What was looked for may come meanwhile, with other keys: then it is looked for again.
    const next = keyRow.getByRole('button', { name: /^(NEXT|Next:)/ });
    if (
      await next.click({ timeout: 3000 }).then(
        () => true,
        () => false,
      )
    )
      await eventually(() => keyRow.innerText()).not.toBe(before);
  }
}

/** What stands of a raised record is changed only for a reason: one key. */
async function sayWhy(page: Page): Promise<void> {
  const asked = page.locator('.correction-keys');
  await asked.getByRole('button').first().click();
  await eventually(() => asked.count()).toBe(0);
}

/** Brings what no screen can write yet, with the server down meanwhile. */
async function bring(server: Server, what: 'issue' | 'crack'): Promise<void> {
  await server.kill();
  const root = inject('root');
  const words = ['-m', 'tests.browser.brought', what, server.folder];
  execFileSync(join(root, '.venv/bin/python'), words, { cwd: root });
  await server.restart();
}

/** The row of a record as the server has it. */
async function rowOf(server: Server, number: string): Promise<Record<string, unknown>> {
  const headers = { cookie: await session(server, 'Lead') };
  const answer = await fetch(`${server.address}/api/defects/${number.replace('/', '')}`, {
    headers,
  });
  return ((await answer.json()) as Record<string, unknown>[])[0] ?? {};
}

describe('a record the lead wants looked at again', () => {
  const stage = useStage('demo');

  it('is asked at the desk, answered on a tablet without the server, and seen by the lead', async () => {
    const airframe = await tablet(stage, 'Inspector 2');
    const letter = (await airframe.locator('.title-block').innerText()).match(/Tablet\s+([A-Z])\b/);
    const lead = await desk(stage);
    await record(lead, 'B/0017');
    await key(lead, 'Look again').click();
    const form = lead.locator('.record-asked');
    await form.getByRole('button', { name: `Tablet ${letter?.[1] ?? 'D'}`, exact: true }).click();
    await lead.getByLabel('What to look at or measure').fill('depth after cleaning');
    await form.getByRole('button', { name: 'Look again' }).click();
    await eventually(() => sheet(lead)).toContain('depth after cleaning · not answered yet');
    await sent(lead);

    // Nothing waited on the tablet, so what was asked is looked for itself.
    await sendNow(airframe);
    await record(airframe, 'B/0017');
    await eventually(() => sheet(airframe)).toContain('depth after cleaning');
    await stage.server.kill();
    await airframe.goto('/airframe');
    await key(airframe, /^ASKED: LOOK AGAIN\s+1 record/).click();
    await airframe.locator('.choice', { hasText: 'B/0017' }).click();
    const question = airframe.locator('.strip', { hasText: 'depth after cleaning' });
    await nextUntil(airframe, question);
    // Nothing was measured yet, so nothing can be said of it.
    await eventually(() => key(airframe, /^NO CHANGE/).innerText()).toContain(
      'measure it or take a picture first',
    );
    await airframe.locator('.figure-cell', { hasText: 'Depth' }).click();
    await passQuestions(airframe);
    await typeFigure(airframe, '0.012');
    await sayWhy(airframe);
    await nextUntil(airframe, question);
    await eventually(() => key(airframe, /^CHANGED/).innerText()).toContain('as measured');
    await picture(airframe, 'journey-looked-again');
    await key(airframe, /^CHANGED/).click();
    await eventually(() => question.count()).toBe(0);
    await airframe.goto('/airframe');
    await key(airframe, /^MORE/).click();
    await eventually(() => key(airframe, /^LOOK\s+AGAIN/).innerText()).toContain(
      'nothing is asked',
    );
    expect((await sheet(lead)).includes('answered:')).toBe(false);

    await stage.server.restart();
    await sendNow(airframe);
    await key(lead, /^SEND NOW/).click();
    await eventually(() => sheet(lead)).toContain(
      'depth after cleaning · answered: changed, as measured',
    );
    await eventually(() => sheet(lead)).toContain('0.012 in');
    const row = await rowOf(stage.server, 'B/0017');
    expect(row).toMatchObject({ look_again: null, state: 'Raised', grade: 3 });
  });
});

describe('a new issue of the standard', () => {
  const stage = useStage('demo');

  it('changes no grade until the lead presses, and then that one record on both devices', async () => {
    const airframe = await tablet(stage, 'Inspector 1');
    await bring(stage.server, 'issue');

    const lead = await desk(stage);
    await sendNow(airframe);
    for (const page of [lead, airframe]) {
      await record(page, 'A/0012');
      await eventually(() => sheet(page)).toContain('Grade 2');
      await eventually(() => sheet(page)).toContain('QS-7 issue 1');
    }
    const before = { grade: 2, graded_by: 'QS-7 issue 1' };
    for (const number of ['A/0012', 'A/0001'])
      await expect.poll(() => rowOf(stage.server, number)).toMatchObject(before);

    await key(lead, /^More/).click();
    await key(lead, 'Grade again').click();
    const preview = lead.locator('.grade-again');
    await eventually(() => preview.innerText()).toMatch(/QS-7 issue 2\s+Grade 3\s+AL3/);
    await picture(lead, 'journey-grade-again');
    // Looked at, not pressed: still as it was.
    await expect.poll(() => rowOf(stage.server, 'A/0012')).toMatchObject(before);
    await lead.locator('.record-asked').getByRole('button', { name: 'Grade again' }).click();
    await eventually(() => sheet(lead)).toContain('QS-7 issue 2');
    await eventually(() => sheet(lead)).toContain('depth 0.009 in > 0.005 in');
    await sent(lead);

    await sendNow(airframe);
    await record(airframe, 'A/0012');
    await eventually(() => sheet(airframe)).toContain('Grade 3');
    await eventually(() => sheet(airframe)).toContain('QS-7 issue 2');
    const after = { grade: 3, graded_by: 'QS-7 issue 2' };
    await expect.poll(() => rowOf(stage.server, 'A/0012')).toMatchObject(after);
    await expect.poll(() => rowOf(stage.server, 'A/0001')).toMatchObject(before);
  });
});

describe('a crack measured a second time', () => {
  const stage = useStage('demo');

  it('grows by its figures, which the lead says of the record and a tablet then sees', async () => {
    const airframe = await tablet(stage, 'Inspector 1');
    await bring(stage.server, 'crack');
    const lead = await desk(stage);
    await record(lead, 'E/0001');
    await eventually(() => sheet(lead)).toContain('Grade 3');
    await key(lead, 'Crack record').click();
    const told = lead.locator('.crack-record');
    await eventually(() => told.innerText()).toContain('2 observations · growth is shown (CK3)');
    await expect.poll(() => told.innerText()).toContain('+0.07, growth proved (CK3)');
    await expect.poll(() => told.innerText()).toContain('the record does not say so yet');
    await expect.poll(() => rowOf(stage.server, 'E/0001')).toMatchObject({ grade: 3 });
    await picture(lead, 'journey-growth-proved');
    await key(lead, 'Set growth shown').click();
    await eventually(() => sheet(lead)).toContain('Grade 4');
    await sent(lead);
    await eventually(() => rowOf(stage.server, 'E/0001')).toMatchObject({
      ...{ grade: 4, deciding: 'CK3: growth beyond measuring uncertainty' },
    });

    await sendNow(airframe);
    await record(airframe, 'E/0001');
    await eventually(() => sheet(airframe)).toContain('Grade 4');
    await eventually(() => sheet(airframe)).toContain('CK3');
  });

  it('shows its growth to the lead, found by another inspector a fortnight later', async () => {
    const first = await tablet(stage, 'Inspector 1');
    const number = await photograph(first);
    await key(first, /^MEASURE/).click();
    await key(first, /^Crack/).click();
    await passQuestions(first);
    await first.locator('.figure-cell', { hasText: 'Length' }).click();
    await typeFigure(first, '0.40');
    await eventually(() => grade(first)).toContain('Grade at least 3 ?');
    for (const question of ['Reaches an edge', 'Joins two holes']) {
      await first.locator('button.figure-cell', { hasText: question }).click();
      await first.getByRole('button', { name: 'NO', exact: true }).click();
    }
    await eventually(() => grade(first)).toContain('Grade 3');
    await sent(first);
    const written = number.replace(/(?=\d{4}$)/, '/');
    const found = { kind: 'crack', grade: 3, grade_known: true };
    await eventually(() => rowOf(stage.server, written)).toMatchObject(found);

    await stage.server.restart('2025-11-17');
    const second = await tablet(stage, 'Inspector 2');
    await sendNow(second);
    await second.goto(`/airframe/${number}`);
    await second.locator('.figure-cell', { hasText: 'Length' }).click();
    await typeFigure(second, '0.47');
    await second.locator('.figure-cell', { hasText: 'Growth' }).click();
    await key(second, 'YES').click();
    await eventually(() => grade(second)).toContain('Grade 4');
    await sent(second);

    await eventually(() => rowOf(stage.server, written)).toMatchObject({ grade: 4 });

    const lead = await desk(stage);
    await record(lead, written);
    await eventually(() => sheet(lead)).toContain('CK3');
    await key(lead, 'Crack record').click();
    const told = lead.locator('.crack-record');
    await eventually(() => told.innerText()).toContain('2 observations');
    const lines = await told.innerText();
    expect(lines).toMatch(/2025-11-03\s+0\.40 in/);
    expect(lines).toMatch(/2025-11-17\s+0\.47 in/);
    // No ± was typed, so the figures alone prove nothing: the inspector's word is what grades.
    expect(lines).toContain('+0.07, no ± given, growth can');
    await picture(lead, 'journey-growth');
    const row = await rowOf(stage.server, written);
    expect(row).toMatchObject({ grade: 4, grade_known: true, kind: 'crack' });
    expect(String(row.deciding)).toContain('CK3: growth beyond measuring uncertainty');
  });
});

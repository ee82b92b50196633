// A second airframe described by keyboard from nothing, issued, recorded on, and issued anew.
import type { Locator, Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import MARRAM from '../../sample_data/skinpin_demo/data/definition_2603.json' with { type: 'json' };
import { enrol, photograph, sent, signIn } from './acts';
import { accessibilityProblems, picture, useStage } from './harness';

/** Members as somebody pastes them: half frame and plug out of order, one line that is wrong. */
const MEMBERS = [
  ...['Fr1\t-450', 'Fr2\t0\tframe\tyes', 'Fr3\t300', 'Fr4\t900\tframe\tyes', 'Fr5\t15oo'],
  ...['Fr2A\t150\thalf frame', '340B\t720'],
].join('\n');

/** The keyboard, with what is done on it counted: a key pressed, or a line typed or pasted, is one. */
function keyboardOf(page: Page) {
  const counted = { acts: 0, letters: 0 };
  const press = async (key: string) => {
    counted.acts += 1;
    await page.keyboard.press(key);
  };
  const type = async (text: string) => {
    counted.acts += 1;
    counted.letters += text.length;
    await page.keyboard.type(text);
  };
  const paste = async (text: string) => {
    counted.acts += 1;
    await page.keyboard.insertText(text);
  };
  /** TAB until something has the focus, or SHIFT + TAB. */
  const tabTo = async (to: Locator, key = 'Tab') => {
    await to.waitFor();
    for (let step = 0; step < 120; step += 1) {
      if (await to.evaluate((one) => one === document.activeElement)) return;
      await press(key);
    }
    throw new Error(`TAB does not lead to ${to}.`);
  };
  /** Cells of a line, TAB from one to the next, ENTER after the last. */
  const line = async (...cells: string[]) => {
    for (const [at, cell] of cells.entries()) {
      if (at > 0) await press('Tab');
      if (cell !== '') await type(cell);
    }
    await press('Enter');
  };
  return { counted, press, type, paste, tabTo, line };
}

/** The demo's definition, its hull with members changed. */
function fileOf(change: (members: { name: string; station: string }[]) => unknown) {
  const definition = structuredClone(MARRAM);
  change(definition.structures[0]?.members ?? []);
  const buffer = Buffer.from(JSON.stringify(definition));
  return { name: 'airframe.json', mimeType: 'application/json', buffer };
}

describe('an airframe’s file read in with the first pages', () => {
  const stage = useStage('empty');

  it('is refused by the name of its trouble, and what is only odd is said', async () => {
    const { page, expected } = await stage.open('desk');
    expected.push('/api/setup'); // the refusal, which the console tells as well
    await page.goto('/set-up');
    await page.getByLabel('Name of the workshop').fill('Quay Shed');
    await page.getByLabel(/^First lead/).fill('Lead');
    await page.getByLabel(/^Passcode/).fill('471108');
    const choose = page.getByLabel(/^First airframe/);
    const start = page.getByRole('button', { name: /^START THE BOOK/ });
    const twice = fileOf((all) => Object.assign(all[2] ?? {}, { station: all[1]?.station }));
    await choose.setInputFiles(twice);
    await start.click();
    const alert = page.getByRole('alert');
    await expect.poll(() => alert.innerText()).toMatch(/ and .+ both stand at Sta /);
    await picture(page, 'set-up-refused');
    expect(await (await fetch(`${stage.server.address}/api/setup`)).json()).toEqual({
      empty: true,
    });
    await choose.setInputFiles(fileOf((all) => all.reverse()));
    await start.click();
    await page.getByRole('heading', { name: 'The book is started' }).waitFor();
    expect(await page.locator('li').innerText()).toMatch(
      /^Hull is not typed in order of station: /,
    );
    expect(await accessibilityProblems(page)).toEqual([]);
    await picture(page, 'set-up-said');
    await page.getByRole('button', { name: /^GO ON/ }).click();
    await page.getByRole('button', { name: /^Lead/ }).waitFor();
  });
});

describe('an airframe of one’s own', () => {
  const stage = useStage('demo');

  it('is described by keyboard, drawn as it is typed, issued, recorded on and issued anew', async () => {
    const { page } = await stage.open('desk');
    const { counted, press, type, paste, tabTo, line } = keyboardOf(page);
    const typed = page.locator('.part-typed');
    const troubles = page.locator('.part-troubles');
    const first = (label: RegExp) => page.getByLabel(label).first();
    const turnTo = async (part: string) => {
      await press('PageDown');
      await page.waitForURL((url) => url.pathname.endsWith(`/${part}`));
    };
    await signIn(page, 'Lead');
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL(/\/defects/);
    await page.getByRole('link', { name: 'Airframe 2603: another one' }).click();
    await page.waitForURL('/airframes');

    const began = performance.now();
    await tabTo(page.getByRole('button', { name: /^DESCRIBE AN AIRFRAME/ }));
    await press('Enter');
    await expect.poll(() => page.evaluate(() => document.activeElement?.tagName)).toBe('INPUT');
    await type('Sedge 2');
    await press('Tab');
    await type('4417');
    await tabTo(page.getByRole('button', { name: 'millimetres' }));
    await press('Enter');

    await turnTo('structures');
    await line('Fuselage', '', '', '', '', 'front face of the firewall');
    await line(
      'Port wing',
      'P',
      'WS',
      '',
      'outboard',
      'aircraft centreline',
      'upper skin, lower skin',
    );

    // A list is pasted; the wrong line is named by its number, mended, and all is read.
    await turnTo('members');
    await paste(MEMBERS);
    await press('Control+Enter');
    await typed.getByText('line 5, station').waitFor();
    await picture(page, 'journey-airframe-lines');
    await press('Control+a');
    await paste(MEMBERS.replace('15oo', '1500'));
    await press('Control+Enter');
    await expect.poll(() => typed.locator('tbody tr').count()).toBe(9);
    await tabTo(page.getByRole('button', { name: /^IN ORDER OF STATION/ }), 'Shift+Tab');
    await press('Enter');
    await expect.poll(() => first(/^Member, member 4/).inputValue()).toBe('Fr3');
    expect(await page.locator('.developed path.hidden-line').count()).toBe(1);
    expect(await page.locator('.developed path.thick').count()).toBe(2);
    await picture(page, 'journey-airframe-members');

    await turnTo('strakes');
    await type('K, B1-B2, C');
    await tabTo(first(/^Plate or part, plate 1/));
    await line('bottom plating', 'K', 'C', '1.2');
    await page.reload();
    await expect.poll(() => first(/^Plate or part, plate 1/).inputValue()).toBe('bottom plating');

    // The other structure, chosen by its arrow keys; two ribs.
    await tabTo(page.getByLabel('Structure shown'));
    await press('ArrowDown');
    await page.getByLabel(/lines of Port wing/).waitFor();
    await press('PageUp');
    await page.waitForURL(/members\?structure=Port\+wing/);
    await paste('R1 250 rib\nR9 4200 rib yes');
    await press('Control+Enter');
    await expect.poll(() => first(/^Member, member 2/).inputValue()).toBe('R9');
    await press('PageUp');
    await page.waitForURL(/structures/);
    await press('ArrowDown');
    await tabTo(page.getByRole('button', { name: /^THE SAME FOR THE OTHER HAND/ }));
    await press('Enter');
    for (const part of ['members', 'strakes', 'zones']) await turnTo(part);

    // One zone, then the gaps it leaves: hatched, and the same in words.
    await line('111', 'Bow, port', 'Fuselage', 'P', '', 'Fr3', '', '', 'y');
    await expect.poll(() => troubles.innerText()).toContain('Fuselage, port, Fr3 to');
    await picture(page, 'journey-airframe-gaps');
    expect(await accessibilityProblems(page)).toEqual([]);
    await press('ArrowUp');
    await tabTo(page.getByRole('button', { name: /^ITS OTHER HANDS TOO/ }));
    await press('Enter');
    await tabTo(first(/^Zone, zone 4/), 'Shift+Tab');
    await line('121', 'Aft, port', 'Fuselage', 'P', '300');
    await press('ArrowUp');
    await tabTo(page.getByRole('button', { name: /^ITS OTHER HANDS TOO/ }));
    await press('Enter');
    await tabTo(first(/^Zone, zone 7/), 'Shift+Tab');
    await line('501', 'Port wing', 'Port wing');
    await line('602', 'Starboard wing', 'Starboard wing');
    await expect.poll(() => troubles.innerText()).toContain('Nothing stands in the way');
    await turnTo('access');
    await line('111', 'Floor 1', 'floor', '12');
    await turnTo('drawings');
    await turnTo('issue');
    const issue = page.getByRole('button', { name: /^PUT THE AIRFRAME IN THE BOOK/ });
    await tabTo(issue);
    await expect.poll(() => issue.getAttribute('aria-disabled'), { timeout: 10_000 }).toBeNull();
    await press('Enter');
    await page.waitForURL('/airframes/4417');
    const seconds = ((performance.now() - began) / 1000).toFixed(0);
    await page.getByRole('link', { name: 'Airframe 4417: another one' }).waitFor();
    console.log(
      `airframe set up: ${counted.acts} keys and lines, ${counted.letters} letters typed, ${seconds} s by the script`,
    );
    expect(counted.acts).toBeLessThan(400);

    // A record from paper, and one at the airframe: graded, and reported.
    await page.goto('/paper');
    const paper = {
      ...{ paper_number: '1', found_by: 'Lead', found_on: '2025-11-01', structure: 'Fuselage' },
      ...{ hand: 'port', position: 'Fr3 + 150.0', strakes: 'K-B1', face: 'inner', kind: 'pitting' },
      ...{ material: 'AL', part: 'bottom plating', thickness: '1.2 mm', length: '5 mm' },
      ...{ width: '5 mm', depth: '0.3 mm', cleaned: 'yes' },
    };
    for (const [name, text] of Object.entries(paper))
      await page.locator(`.paper-line [name=${name}]`).fill(text);
    await page.keyboard.press('Enter');
    await page.locator('.paper-stored li').first().waitFor();
    const tablet = await stage.open('airframe');
    await enrol(tablet.page, stage.server);
    await signIn(tablet.page, 'Inspector 2');
    await tablet.page.goto('/airframes');
    const choose = tablet.page.getByRole('button', { name: 'Show this one: 4417' });
    const shown = tablet.page.getByRole('button', { name: 'Shown here: 4417' });
    await choose.or(shown).first().waitFor();
    if ((await choose.count()) > 0) await choose.click();
    await shown.waitFor();
    await tablet.page.goto('/airframe');
    await tablet.page.locator('.position-bar', { hasText: 'Fuselage' }).waitFor();
    await picture(tablet.page, 'journey-airframe-capture');
    const number = await photograph(tablet.page);
    await tablet.page.getByRole('button', { name: /^MEASURE/ }).click();
    await tablet.page.getByRole('button', { name: 'Pitting', exact: true }).click();
    await expect
      .poll(() => tablet.page.locator('.figure-cell', { hasText: 'thickness' }).innerText())
      .toMatch(/1\.2 mm.*drawing/s);
    await sent(tablet.page);
    const report = await page.evaluate(async () => {
      const answer = await fetch('/api/reports/zone/121.pdf?airframe=4417');
      return `${answer.status} ${(await answer.text()).slice(0, 5)}`;
    });
    expect(report).toBe('200 %PDF-');

    // A frame found later: the record reads by it, and stays where it is on the metal.
    await page.goto('/airframes/4417/members');
    await first(/^Member, member 5/).focus();
    await press('Shift+Enter');
    await line('Fr3N', '400', '', '', '', '', 'y');
    await page.goto('/airframes/4417/issue');
    await page.getByLabel('Reason of this issue').fill('Fr3N found behind the floor');
    await expect.poll(() => page.locator('.moved-records').innerText()).toContain('Fr3N + 50.0');
    expect(await page.locator('.moved-records tbody').innerText()).toContain('Fr3 + 150.0');
    await picture(page, 'journey-airframe-issue');
    const again = page.getByRole('button', { name: /^ISSUE 2/ });
    await expect.poll(() => again.getAttribute('aria-disabled')).toBeNull();
    await again.click();
    await page.waitForURL('/airframes/4417');
    await page.getByText('Issue 2 is in the book; nothing is changed since').waitFor();
    await expect.poll(() => page.locator('.part-cell').last().innerText()).toContain('2, in book');
    await picture(page, 'journey-airframe-issued');
    const rows = await page.evaluate(async () => {
      const answer = await fetch('/api/defects');
      return (await answer.json()) as Record<string, string>[];
    });
    const words = rows.map((row) => `${Number(row.station)} ${row.grade} ${row.place_words}`);
    expect(words.join('\n')).toMatch(/^450 3 .*Fr3N \+ 50\.0/m);
    expect(rows.map((row) => row.number?.replace('/', ''))).toContain(number);

    // A record of the other airframe, opened by its address, leads there.
    await page.goto('/defects/A0002');
    await page.getByText(/A\/0002 is a record of .* 2603/).waitFor();
    await page.getByRole('button', { name: /^SHOW 2603/ }).click();
    await page.getByRole('heading', { name: /A\/0002/ }).waitFor();
  });

  it('shows every title of its zones whole, and every frame of the hull by name', async () => {
    const { page } = await stage.open('desk');
    await signIn(page, 'Lead');
    await page.getByRole('button', { name: /^USE AS A DESK/ }).click();
    await page.waitForURL(/\/defects/);
    for (const [width, height] of [
      [1600, 1000],
      [1280, 800],
      [1180, 820],
    ] as const) {
      await page.setViewportSize({ width, height });
      await page.goto('/airframes/2603/zones');
      await page.getByLabel('Title, zone 2', { exact: true }).waitFor();
      const cut = await page
        .locator('.typed-table td :is(input, textarea)')
        .evaluateAll((all) =>
          (all as HTMLInputElement[])
            .filter(
              (one) => one.scrollWidth > one.clientWidth || one.scrollHeight > one.clientHeight,
            )
            .map((one) => one.value),
        );
      expect(cut, `${width} px`).toEqual([]);
      const named = await page
        .locator('.station-scale text')
        .evaluateAll((all) => all.map((one) => one.firstChild?.textContent));
      expect(named, `${width} px`).toEqual(
        expect.arrayContaining(['F1', 'F10', 'F11', 'F13', 'F15', 'F30']),
      );
    }
  });
});

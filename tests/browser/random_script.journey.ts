import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import {
  enrol,
  letterOf,
  madePicture,
  passQuestions,
  photograph,
  signIn,
  typeFigure,
} from './acts';
import {
  Auditor,
  countHeld,
  damagedFiles,
  digestOf,
  type Held,
  keyHolds,
  picturesOf,
  readHeld,
  readShown,
  signature,
} from './agreement';
import { type Device, type Server, type Stage, useStage, waitForOffline } from './harness';
import { newProfile } from './profile';
import {
  Chance,
  drawStep,
  type Grown,
  handOver,
  held,
  marked,
  pause,
  type Scene,
  STEPS,
  settled,
  type Tablet,
} from './script';

/** `SCRIPT_SEED` plays another script, `random` a new one; `SCRIPT_STEPS` makes it longer. */
const ASKED = process.env.SCRIPT_SEED ?? '20251103';
const SEED = ASKED === 'random' ? Date.now() % 1_000_000 : Number(ASKED);
const LENGTH = Number(process.env.SCRIPT_STEPS ?? 25);
/** On a busy computer a script ends early, and says so; the steps it played are the same. */
const PLAY_MS = 1600 * LENGTH;
/** What the screen says and what is stored may differ for a moment: on a busy computer a long one. */
const PATIENCE_MS = 15_000;
/** `SCRIPT_KILLS` kills the browser more often. */
const KILLS = Number(process.env.SCRIPT_KILLS ?? 2);

describe(`work on tablets, by chance (SCRIPT_SEED=${SEED})`, () => {
  const stage = useStage('demo');

  // On a busy computer a click can run out of time: then, and only then, it is played again.
  it('is counted exactly after every step, and the same everywhere at the end', {
    retry: { count: 1, condition: /TimeoutError/ },
  }, async () => {
    const chance = new Chance(SEED);
    const auditor = await Auditor.start(stage.server);
    const tablets = [
      await newTablet(stage, auditor.book, 'Inspector 1'),
      await newTablet(stage, auditor.book, 'Inspector 2'),
    ];
    const played: string[] = [];
    const until = Date.now() + PLAY_MS;
    try {
      for (let step = 0; step < LENGTH && Date.now() < until; step += 1) {
        await playOne({ server: stage.server, chance }, chance.one(tablets), played);
        await audit(auditor, tablets, stage.server.isRunning());
      }
      if (!stage.server.isRunning()) await stage.server.restart();
      await expectOneBook(auditor, tablets);
      console.info(`SCRIPT_SEED=${SEED}: ${played.length} of ${LENGTH} steps played`);
    } catch (cause) {
      throw new Error(`SCRIPT_SEED=${SEED}, after ${played.join(' · ')}\n${cause}`, { cause });
    }
  });

  it.each(killsOf(KILLS))(
    'is whole after the browser’s process was killed in capture %s',
    async (words, run) => {
      if (!stage.server.isRunning()) await stage.server.restart();
      const chance = new Chance(SEED + run);
      const profile = newProfile(stage.server);
      try {
        const before = await capturing(
          stage,
          await profile.open(),
          words === 'with the server away',
        );
        await expect
          .poll(() => [...before.shown].join(), { timeout: 60_000 })
          .toContain('photograph');
        await pause(chance.whole(4000));
        await profile.kill();
        await before.ended;
        const after = await profile.open();
        await expectShown(after.page, before);
        if (!stage.server.isRunning()) await stage.server.restart();
        await expectSent(stage, after.page, before);
        expect([...before.device.problems, ...after.problems]).toEqual([]);
      } finally {
        await profile.remove();
      }
    },
  );
});

/** In turn with the server away and while it is sending. */
function killsOf(count: number): [string, number][] {
  const when = ['with the server away', 'while it is sending'] as const;
  return Array.from({ length: count }, (_, at) => [when[at % 2] as string, at + 1]);
}

async function newTablet(stage: Stage, book: string, person: string): Promise<Tablet> {
  const device = await stage.open('airframe');
  const { page } = device;
  const letter = await makeReady(page, stage.server, person);
  // Entries go before bytes: a picture of the other tablet can be named here and not be there yet.
  device.expected.push('status of 404 (Not Found)');
  const picture = await madePicture(page, 1000, 700);
  const kept = { ids: new Set<string>(), files: new Set<string>() };
  return { letter, book, device, page, person, picture, taken: [], ...kept };
}

/** Enrols a browser as a tablet, signs a person in, and returns the tablet's letter. */
async function makeReady(page: Page, server: Server, person: string): Promise<string> {
  await enrol(page, server);
  await waitForOffline(page);
  await signIn(page, person);
  await page.getByText(/SHELL EXPANSION/).waitFor();
  return letterOf(page);
}

/** Plays one step that is possible here, and sees that it stored what it should. */
async function playOne(scene: Scene, tablet: Tablet, played: string[]): Promise<void> {
  for (;;) {
    const name = drawStep(scene.chance);
    const before = (await held(tablet)).own.length;
    played.push(`${tablet.letter} ${name}`);
    const grown = await STEPS[name]?.act(scene, tablet);
    if (grown) return expectGrown(tablet, before, grown);
    played.pop();
  }
}

async function expectGrown(tablet: Tablet, before: number, grown: NonNullable<Grown>) {
  const growth = async () => (await held(tablet)).own.length - before;
  await expect.poll(growth, { timeout: 20_000 }).toBeGreaterThanOrEqual(grown.least);
  if (grown.most > grown.least) await pause(300);
  expect(await growth()).toBeLessThanOrEqual(grown.most);
}

/** Holds the three accounts against each other: what is held, what is shown, what is there. */
async function audit(auditor: Auditor, tablets: Tablet[], isRunning: boolean): Promise<void> {
  const all: Held[] = [];
  for (const tablet of tablets) all.push(await expectCounted(tablet.page, () => held(tablet)));
  for (const [at, tablet] of tablets.entries()) expectKept(tablet, all[at] as Held);
  if (!isRunning) return;
  const there = await auditor.entries();
  for (const one of all) await expectThere(auditor, there, one);
}

/** Waits until the screen's count is the one in the stores, with nothing moving in between. */
async function expectCounted(page: Page, read: () => Promise<Held>): Promise<Held> {
  const until = Date.now() + PATIENCE_MS;
  for (;;) {
    const before = await read();
    const shown = await readShown(page);
    const now = await read();
    const counted = countHeld(now);
    const isStill = signature(before) === signature(now);
    if (isStill && shown.words === counted.words && keyHolds(shown.key, counted)) return now;
    if (isStill && Date.now() > until)
      expect(shown).toEqual({ words: counted.words, key: counted });
    await pause(50);
  }
}

/** Nothing that a tablet ever held may go, and nothing may be refused. */
function expectKept(tablet: Tablet, now: Held): void {
  const [ids, files] = [new Set(now.ids), new Set(now.files)];
  expect([...tablet.ids].filter((id) => !ids.has(id))).toEqual([]);
  expect([...tablet.files].filter((file) => !files.has(file))).toEqual([]);
  expect(now.refused).toEqual([]);
  tablet.ids = ids;
  tablet.files = files;
}

/** What does not wait is there: every entry, and the bytes of every photograph. */
async function expectThere(auditor: Auditor, there: Map<string, string>, now: Held) {
  const unsent = new Set(now.unsent);
  expect(now.ids.filter((id) => !unsent.has(id) && !there.has(id))).toEqual([]);
  const waiting = new Set(now.unsent_files.map(({ sha256 }) => sha256));
  expect(await auditor.missing(now.files.filter((file) => !waiting.has(file)))).toEqual([]);
}

/** Both send until nothing waits; then both and the server hold one book. */
async function expectOneBook(auditor: Auditor, tablets: Tablet[]): Promise<void> {
  for (const tablet of [...tablets, ...tablets]) await sendAll(tablet.page);
  const there = await auditor.entries();
  const rows = digestOf(await auditor.rows());
  for (const tablet of tablets) {
    const now = await expectCounted(tablet.page, () => held(tablet));
    expect(countHeld(now)).toEqual({ entries: 0, files: 0, words: 'Nothing waiting' });
    expect([...now.ids].sort()).toEqual([...there.keys()].sort());
    expect(digestOf(now.rows)).toBe(rows);
    expect(await damagedFiles(tablet.page, tablet.book)).toEqual([]);
    for (const file of now.files) expect(await auditor.hashOf(file)).toBe(file);
  }
}

async function sendAll(page: Page): Promise<void> {
  await page.goto('/waiting');
  await settled(page);
  const key = page.getByRole('button', { name: /^SEND/ });
  await key.click();
  await expect.poll(() => key.innerText(), { timeout: 60_000 }).toContain('all sent');
}

interface Captured {
  device: Device;
  letter: string;
  book: string;
  /** What the screen has shown: "record D/0001", "photograph D/0001". */
  shown: Set<string>;
  /** Resolves when the browser is gone. */
  ended: Promise<void>;
}

/** Enrols a tablet and records one defect after the other on it until its browser goes. */
async function capturing(stage: Stage, device: Device, away: boolean): Promise<Captured> {
  const { page } = device;
  const shown = await noteShown(page);
  const letter = await makeReady(page, stage.server, 'Inspector 3');
  const { book } = (await (await fetch(`${stage.server.address}/api/health`)).json()) as {
    book: string;
  };
  if (away) await stage.server.kill();
  const ended = recordOn(page).catch((error: unknown) => {
    if (!/closed|crashed/.test(String(error))) throw error;
  });
  return { device, letter, book, shown, ended };
}

async function recordOn(page: Page): Promise<void> {
  const picture = await madePicture(page, 1000, 700);
  for (let count = 0; ; count += 1) {
    await handOver(page, marked(picture, `${count}`));
    await page.getByRole('button', { name: /^KEEP/ }).click();
    await page.getByRole('button', { name: /^MEASURE/ }).click();
    await page.getByRole('button', { name: 'Dent', exact: true }).click();
    await passQuestions(page);
    await typeFigure(page, '0.2');
    await page.goto('/airframe');
  }
}

/** Has the page tell of every number it shows, at the moment it does. */
async function noteShown(page: Page): Promise<Set<string>> {
  const shown = new Set<string>();
  page.on('console', (line) => {
    const words = /^shown: (.*)$/.exec(line.text())?.[1];
    if (words) shown.add(words);
  });
  await page.addInitScript(() => {
    const look = () => {
      // SHUTTER says the number that it is going to give: that one is not given yet.
      const drawn = document.body?.cloneNode(true) as HTMLElement | null;
      drawn?.querySelector('.k-shutter')?.remove();
      const page = drawn?.textContent ?? '';
      const head = document.querySelector('.picture-head')?.textContent ?? '';
      const stored = head.includes('stored on this tablet') ? head : '';
      for (const number of page.match(/[A-Z]\/\d{4}/g) ?? [])
        console.info(`shown: record ${number}`);
      for (const number of stored.match(/[A-Z]\/\d{4}/g) ?? [])
        console.info(`shown: photograph ${number}`);
    };
    new MutationObserver(look).observe(document, {
      ...{ subtree: true, childList: true, characterData: true },
    });
  });
  return shown;
}

/** Whatever was shown is there after the start, in the stores and on the screen. */
async function expectShown(page: Page, { shown, letter, book }: Captured): Promise<void> {
  await page.goto('/airframe');
  await settled(page);
  const now = await expectCounted(page, () => readHeld(page, book, letter));
  for (const words of shown) {
    const [what, number = ''] = words.split(' ');
    if (!number.startsWith(`${letter}/`)) continue;
    const row = now.rows.find((one) => one.number === number);
    expect({ number, is_here: row !== undefined }).toEqual({ number, is_here: true });
    if (what !== 'photograph' || !row) continue;
    const hashes = picturesOf(now, row.record);
    expect({ number, photographs: hashes.length }).toEqual({ number, photographs: 1 });
    expect(now.files).toContain(hashes[0]);
    await page.goto(`/airframe/${number.replace('/', '')}`);
    await expect.poll(() => page.locator('.measure-pictures a').count()).toBe(1);
  }
  expect(await damagedFiles(page, book)).toEqual([]);
}

/** Once sent, the server has all of it, and the number that comes next is a new one. */
async function expectSent(stage: Stage, page: Page, { letter, book }: Captured): Promise<void> {
  await sendAll(page);
  const auditor = await Auditor.start(stage.server);
  const now = await expectCounted(page, () => readHeld(page, book, letter));
  expect(countHeld(now).entries).toBe(0);
  await expectThere(auditor, await auditor.entries(), now);
  await page.goto('/airframe');
  const number = (await photograph(page)).replace(/^[A-Z]+/, '$&/');
  expect(now.rows.map((row) => row.number)).not.toContain(number);
}

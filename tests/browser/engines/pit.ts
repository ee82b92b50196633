// One pit from the enrolled tablet to the server, in whichever engine is handed over.
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, inject, it, onTestFailed } from 'vitest';
import { enrolmentCode, session } from '../acts';
import { type Server, startServer } from '../server';
import { lengthFromPicture, sameViewAgain } from './pictures';
import { Sheet } from './sheet';
import type { Engine } from './wire';

/** Declare the journey for one engine. */
export function onePit(name: string, start: () => Promise<Engine>): void {
  let server: Server;
  let engine: Engine;
  /** Address of the photograph that was taken. */
  let photograph = '';
  const folder = mkdtempSync(join(tmpdir(), 'skinpin-pit-'));
  beforeAll(async () => {
    [server, engine] = await Promise.all([startServer('demo'), start()]);
  });
  afterAll(async () => {
    await engine?.close();
    await server?.close();
    rmSync(folder, { recursive: true });
  });

  it('is photographed, measured and graded with the server away, and sent when it is back', async () => {
    const sheet = new Sheet(engine, server.address);
    onTestFailed(() => showFailure(engine, name));
    await engine.send('size', { width: 800, height: 1280 });
    await enrolAndSignIn(sheet, server);

    await server.kill();
    await sheet.reload();
    await sheet.says('SHELL EXPANSION');
    const bytes = takenPicture('taken');
    const file = join(folder, 'taken.jpg');
    writeFileSync(file, bytes);
    await sheet.photograph(file);
    photograph = await sheet.comesTo(/^\/airframe\/[A-Z]+\d{4}\/photograph\//);
    const number = photograph.split('/')[2] ?? '';
    const shown = `${number[0]}/${number.slice(1)}`;
    await sheet.says(shown);

    await measure(sheet);
    await graded(sheet);
    await sheet.press(/^LATER/);
    await sheet.says('SHELL EXPANSION');
    await sheet.go(`/airframe/${number}`);
    // A page taken away while its parts are on their way is told as an error by the browser.
    await graded(sheet);
    await sheet.reload();
    await graded(sheet);
    await sheet.press(new RegExp(`^RAISE ${shown}`));
    await sheet.says(`${shown} is raised and stored.`);
    await sheet.go('/waiting');
    await sheet.says('1 photograph waiting', '.title-block');

    await server.restart();
    await sheet.reload();
    await sheet.says('Nothing waiting', '.title-block');
    await atTheServer(server, number, bytes);
    expect(await engine.problems(server.address)).toEqual([]);
  });

  it('has a length from its photograph, and is seen again in the same view', async () => {
    const sheet = new Sheet(engine, server.address);
    onTestFailed(() => showFailure(engine, `${name}-pictures`));
    await sheet.go(photograph);
    await lengthFromPicture(sheet);
    const again = join(folder, 'again.jpg');
    writeFileSync(again, takenPicture('again'));
    await sheet.go(photograph);
    await sameViewAgain(sheet, again);
    expect(await engine.problems(server.address)).toEqual([]);
  });

  it('opens anew, time after time, from a page that the browser puts aside whole', async () => {
    const sheet = new Sheet(engine, server.address);
    for (const path of ['/waiting', '/airframe', '/waiting', '/defects', '/airframe']) {
      await sheet.go(path);
      await sheet.says(/waiting/i, '.title-block');
    }
  });

  it('cannot hide an error: what a page did wrong is known after it is gone', async () => {
    const sheet = new Sheet(engine, server.address);
    await sheet.go('/');
    await sheet.run(() => {
      console.error('planted 17');
      document.head.append(document.createElement('style'));
      document.head.lastElementChild?.append('body { color: red }');
      setTimeout(() => {
        throw new Error('planted 19');
      });
    });
    await sheet.go('/waiting');
    const words = async () => (await engine.problems(server.address)).join('\n');
    await expect.poll(words).toMatch(/planted 19/);
    expect(await words()).toMatch(/style-src/);
    expect(await words()).toMatch(/planted 17/);
  });
}

async function enrolAndSignIn(sheet: Sheet, server: Server): Promise<void> {
  await sheet.go('/enrol');
  await sheet.type('One-time code', await enrolmentCode(server));
  await sheet.press(/^ENROL AS A TABLET/);
  await sheet.comesTo(/^\/$/);
  const controlled = () => sheet.run(() => navigator.serviceWorker.controller !== null);
  await expect.poll(controlled, { timeout: 20_000 }).toBe(true);
  await sheet.signIn('Inspector 2');
  await sheet.says('SHELL EXPANSION');
}

const FIGURES = [
  [/^Plate thickness/, '16'],
  [/^Length/, '4.5'],
  [/^Width/, '3'],
  [/^Depth/, '0.012'],
] as const;

/** 0.012 in is 18.8 % of gauge 16, 0.064 in, and grade 3 by the demo's AL4. */
async function measure(sheet: Sheet): Promise<void> {
  await sheet.press(/^MEASURE/);
  await sheet.press(/^Pitting$/);
  for (const [cell, figure] of FIGURES) {
    await sheet.press(cell, '.figure-cell');
    if (figure === '16') await sheet.press(/^SWG/);
    if (figure === '0.012') await sheet.press(/^DG-1/); // which instrument: asked once a day
    await sheet.figures(figure);
    await sheet.press(/^Next:/);
  }
  await sheet.press(/^Cleaned/, '.figure-cell');
  await sheet.press(/^yes$/);
  await sheet.says('RAISE'); // the next question comes when the answer is stored
}

async function graded(sheet: Sheet): Promise<void> {
  await sheet.says('Grade 3 severe', '.grade-block');
  await sheet.says('AL4', '.grade-block');
  await sheet.says('Sorting aid, not approved data', '.grade-block');
}

/** The server holds the record, and the photograph bit for bit. */
async function atTheServer(server: Server, number: string, bytes: Buffer): Promise<void> {
  const cookie = await session(server, 'Lead');
  const ask = (path: string) => fetch(`${server.address}${path}`, { headers: { cookie } });
  const [row] = (await (await ask(`/api/defects/${number}`)).json()) as Record<string, unknown>[];
  expect(row).toMatchObject({ state: 'Raised', grade: 3, photographs: 1 });
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  const held = await ask(`/api/photographs/${sha256}`);
  expect(held.status).toBe(200);
  expect(Buffer.from(await held.arrayBuffer()).equals(bytes)).toBe(true);
}

/** A photograph of the demo with a remark in its header, so that no book holds its bytes yet. */
function takenPicture(words: 'taken' | 'again'): Buffer {
  const folder = join(inject('demoBook'), 'photographs');
  const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort();
  for (const file of files.filter((name) => /[0-9a-f]{64}$/.test(name))) {
    const bytes = readFileSync(join(folder, file));
    if (bytes.readUInt16BE(0) !== 0xffd8) continue;
    const remark = Buffer.from([0xff, 0xfe, 0x00, 0x07, ...Buffer.from(words)]);
    return Buffer.concat([bytes.subarray(0, 2), remark, bytes.subarray(2)]);
  }
  throw new Error(`The demo book has no JPEG in ${folder}.`);
}

async function showFailure(engine: Engine, name: string): Promise<void> {
  const folder = join(inject('root'), 'screenshots');
  mkdirSync(folder, { recursive: true });
  const picture = (await engine.send('picture')) as string;
  writeFileSync(join(folder, `failed-${name}.png`), Buffer.from(picture, 'base64'));
}

// Records a release: what its app sends, its backup and database, and its built page.
// RELEASE=2 npx vitest run --config vitest.browser.config.ts --mode record
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync } from 'node:zlib';
import { expect, inject, it } from 'vitest';
import { DEMO_TODAY, startServer } from '../browser/server';
import { DEFINITION } from '../frontend/services/bench';
import { Browser, Recorder } from './recorder';
import { type At, decide, inspect, otherMoves, raised, twoValues, writeUnknown } from './work';

const QS7 = 'sample_data/skinpin_demo/data/standard_qs7.json';
const PASSCODES = ['314159', '271828', '577215', '161803', '141421'];
const FIRST = {
  ...{ workshop: 'Quay Shed', time_zone: 'Europe/London', unit: 'in', lead_name: 'Lead' },
  ...{ passcode: PASSCODES[0], stamp_number: '01', definition: DEFINITION },
};
const OTHERS = [
  { name: 'Inspector 1', role: 'inspector', stamp_number: '11' },
  { name: 'Inspector 2', role: 'inspector', stamp_number: '12' },
  { name: 'Fitter 1', role: 'fitter', stamp_number: '21' },
  { name: 'Clerk', role: 'clerk', stamp_number: '' },
];

it('records this release', { timeout: 300_000 }, async () => {
  const release = process.env.RELEASE ?? '';
  const folder = join(inject('root'), 'tests/upgrades/releases', release);
  expect(release, 'RELEASE names it').toMatch(/^\d+$/);
  expect(existsSync(folder), `${folder} was recorded and is never written again`).toBe(false);
  const making = `${folder}.making`;
  rmSync(making, { recursive: true, force: true });
  mkdirSync(making, { recursive: true });
  const server = await startServer('empty');
  try {
    const recorder = new Recorder(server.address, DEMO_TODAY);
    const python = (...words: string[]) => run(join(inject('root'), '.venv/bin/python'), words);
    const keep = (what: string) =>
      python('-m', 'tests.upgrades.keeping', what, server.folder, making);
    const people = await begin(recorder);
    keep('backup');
    recorder.part = 'before';
    const scene = await workBefore(recorder, people);
    keep('database');
    recorder.part = 'after';
    const store = await workAfter(recorder, scene);
    writeFileSync(join(making, 'store.json.br'), brotliCompressSync(store));
    const lines = recorder.asked.map((one) => `${JSON.stringify(one)}\n`).join('');
    writeFileSync(join(making, 'session.jsonl'), lines);
    keep('session');
    keep('whole');
    keep('page');
    renameSync(making, folder);
  } finally {
    await server.close();
  }
});

function run(program: string, words: string[]): string {
  return execFileSync(program, words, { cwd: inject('root'), encoding: 'utf8' });
}

type Ask = <T = Record<string, string>>(method: string, path: string, body?: object) => Promise<T>;

function asking(recorder: Recorder, name: string): Ask {
  const send = recorder.from(name);
  return async (method, path, body) => {
    const headers = { 'Content-Type': 'application/json' };
    const more = body ? { headers, body: JSON.stringify(body) } : {};
    const answer = await send(path, { method, ...more });
    if (!answer.ok) throw new Error(`${method} ${path}: ${await answer.text()}`);
    return answer.status === 204 ? null : answer.json();
  };
}

/** The set-up of the book, and its people. */
async function begin(recorder: Recorder): Promise<string[]> {
  const ask = asking(recorder, 'desk');
  await ask('GET', '/api/setup');
  const standard = JSON.parse(readFileSync(join(inject('root'), QS7), 'utf8'));
  const { person } = await ask('POST', '/api/setup', { ...FIRST, standard });
  const people = [person as string];
  for (const [at, one] of OTHERS.entries()) {
    const given = { ...one, passcode: PASSCODES[at + 1] as string };
    people.push((await ask('POST', '/api/people', given)).person as string);
  }
  return people;
}

interface Scene {
  people: string[];
  codes: string[];
  desk: Browser;
  a: Browser;
  records: string[];
  as(browser: Browser, person: number): Promise<At>;
}

async function workBefore(recorder: Recorder, people: string[]): Promise<Scene> {
  const ask = asking(recorder, 'desk');
  await ask('POST', '/api/sign-in', { person: people[0], passcode: PASSCODES[0] });
  const codes: string[] = [];
  for (let at = 0; at < 3; at += 1)
    codes.push((await ask('POST', '/api/enrolment-codes', {})).code as string);
  const desk = await new Browser(recorder, 'desk').enrol(null);
  const a = await new Browser(recorder, 'A').enrol(codes[0] as string);
  const as = async (browser: Browser, person: number) => {
    const passcode = PASSCODES[person] as string;
    const session = await browser.signIn(people[person] as string, passcode);
    return { browser, session, passcode };
  };
  const records = await inspect(await as(a, 1));
  await writeUnknown(await as(a, 1), records[0] as string);
  await a.meet();
  await desk.meet();
  const [fitter, inspector] = [await as(a, 3), await as(a, 1)];
  await decide(await as(desk, 0), fitter, inspector, records);
  return { people, codes, desk, a, records, as };
}

/** What came after the server was changed for another; returns a tablet’s store with work unsent. */
async function workAfter(recorder: Recorder, scene: Scene): Promise<string> {
  const { people, codes, desk, a, records, as } = scene;
  const b = await new Browser(recorder, 'B').enrol(codes[1] as string);
  const [lead, one, two] = [await as(desk, 0), await as(a, 1), await as(b, 2)];
  // Longer than one part of a photograph.
  const large = await raised(one, '0.009', undefined, 1_100_000);
  await a.at((shop) => shop.drafts.write(one.session, 'measure A0008', { typed: '0.0' }));
  const store = await a.kept((await a.at(async (shop) => shop.device))?.book ?? '');
  await twoValues(one, two, lead, large);
  await otherMoves(lead, one, await as(a, 3), large, records[0] as string);
  await writeUnknown(two, large);
  await b.meet();
  const ask = asking(recorder, 'desk');
  const reason = 'left the workshop';
  await ask('POST', `/api/people/${people[2]}/role`, { role: null, reason });
  // Written by somebody whose role has ended meanwhile: the figure counts, the raise waits.
  await raised(two, '0.002');
  await b.meet();
  for (const browser of [a, desk]) await browser.meet();
  for (const path of READ_AT_THE_DESK) await ask('GET', path);
  await ask('GET', '/api/defects/A0001');
  await ask('POST', '/api/sign-out');
  return store;
}

const READ_AT_THE_DESK = [
  ...['/api/health', '/api/people', '/api/session', '/api/devices', '/api/tablets'],
  ...['/api/keeping', '/api/figures', '/api/defects', '/api/defects?state=Raised', '/api/reports'],
];

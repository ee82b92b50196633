import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { OpenShop } from '../../../frontend/src/services/open';
import type { Session } from '../../../frontend/src/services/shop';
import PICTURES from '../imaging/pictures.json' with { type: 'json' };
import { INSPECTOR, LEAD, PASSCODES, PLACE, seeded, Workshop } from './bench';
import type { Fault } from './server';

let workshop: Workshop;

beforeEach(async () => {
  workshop = await new Workshop().open();
});
afterEach(() => workshop.close());

const signIn = (shop: OpenShop, person = INSPECTOR): Promise<Session> =>
  shop.people.unlock(person, PASSCODES[person] as string);

/** A real picture with some bytes of its own behind it, so that its hash is its own. */
function picture(own: number): ArrayBuffer {
  const bytes = Buffer.from(PICTURES['plain-wide'], 'base64');
  return new Uint8Array([...bytes, own, own >> 8]).buffer;
}

/** What a server has been heard to hold. */
interface Heard {
  entries: ReadonlySet<string>;
  files: { has(sha256: string): boolean };
}

const there = (): Heard => ({ entries: workshop.server.ids(), files: workshop.server.files });

/** What must wait, told from the entries held and what was heard, not from the tablet's counts. */
async function expected(shop: OpenShop, heard: Heard) {
  const records = new Set<string>();
  const photographs = new Set<string>();
  let entries = 0;
  for (const kind of ['defect', 'photograph', 'mark'] as const) {
    for (const one of await shop.book.records(kind)) {
      const ids = Object.keys(await shop.book.verdicts(one.record));
      const unsent = ids.filter((id) => !heard.entries.has(id));
      entries += unsent.length;
      if (kind === 'photograph' && !heard.files.has(one.sha256 as string)) {
        photographs.add(one.record);
      }
      if (unsent.length === 0) continue;
      if (kind === 'defect') records.add(one.record);
      else photographs.add(kind === 'mark' ? (one.photograph as string) : one.record);
    }
  }
  return { entries, records: records.size, photographs: photographs.size };
}

/** Listens on the wire to what whole answers say the server holds. */
function listening(): Heard & { fetch: typeof fetch } {
  const entries = new Set<string>();
  const files = new Set<string>();
  const ask = workshop.server.fetch;
  const hear = async (address: string, init: RequestInit) => {
    const answer = await ask(address, init);
    const text = await answer.clone().text();
    if (address.startsWith('/api/entries') && init.method === 'POST') {
      const results = whole<{ results: { id: string; result: string }[] }>(text)?.results ?? [];
      for (const { id, result } of results) if (result !== 'refused') entries.add(id);
    } else if (address.startsWith('/api/entries')) {
      const lines = text.split('\n');
      const isWhole = whole<{ count: number }>(lines[0] ?? '')?.count === lines.length - 2;
      for (const line of isWhole ? lines.slice(1, -1) : []) entries.add(JSON.parse(line).id);
    } else if (address === '/api/photographs/missing') {
      const missing = whole<{ missing: string[] }>(text)?.missing;
      const asked = JSON.parse(String(init.body)).sha256 as string[];
      for (const one of missing ? asked : []) if (!missing?.includes(one)) files.add(one);
    } else if (init.method === 'PUT') files.add(address.split('/').at(-1) as string);
    return answer;
  };
  return { entries, files, fetch: hear as typeof fetch };
}

function whole<T>(text: string): T | null {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/** One random step of a day's work, or an exchange. */
async function step(shop: OpenShop, session: Session, day: Day): Promise<'work' | 'exchange'> {
  const { random, records, photographs } = day;
  const any = (list: string[]) => list[Math.floor(random() * list.length)];
  const [record, photograph, chance] = [any(records), any(photographs), random()];
  day.steps += 1;
  if (chance < 0.2 || !record) {
    records.push((await shop.capture.shutter(session, PLACE)).record);
  } else if (chance < 0.4) {
    // Few pictures, so that the same bytes come twice.
    const bytes = picture(day.steps % 5);
    const added = await shop.capture.addPhotograph(session, record, bytes, 'close');
    photographs.push(added.record);
  } else if (chance < 0.55) {
    await shop.capture.setField(session, record, 'note', `step ${day.steps}`);
  } else if (chance < 0.7 && photograph) {
    const points: [number, number][] = [[day.steps, 7]];
    await shop.capture.addMark(session, photograph, { kind: 'dot', points });
  } else if (chance < 0.75) {
    const { steps } = await shop.capture.undoable(session, record);
    if (steps > 0) await shop.capture.undo(session, record);
  } else {
    await shop.exchange.sendNow();
    return 'exchange';
  }
  return 'work';
}

interface Day {
  random: () => number;
  records: string[];
  photographs: string[];
  steps: number;
}

describe('exchange', () => {
  it('sends what waits and fetches what others wrote', async () => {
    const shop = await workshop.tablet();
    const session = await signIn(shop);
    const { record } = await shop.capture.shutter(session, PLACE);
    await shop.capture.addPhotograph(session, record, picture(3), 'wide');
    expect((await shop.status.line()).waiting_words).toBe('1 record, 1 photograph waiting');
    await workshop.server.write(LEAD, [
      { record: 'tablet-b', kind: 'tablet', set: { letter: 'B' } },
    ]);
    const state = await shop.exchange.sendNow();
    expect(state).toMatchObject({ problem: null, away: false, running: false });
    expect((await shop.status.line()).waiting_words).toBe('Nothing waiting');
    expect(await shop.book.plain('tablet-b')).toMatchObject({ letter: 'B' });
    expect(workshop.server.entries().filter((one) => one.record === record)).toHaveLength(1);
    expect(workshop.server.files.size).toBe(2);
  });

  it('tells the server how many entries and files wait', async () => {
    const shop = await workshop.tablet();
    expect(workshop.server.unsent).toBe('0');
    const session = await signIn(shop);
    const { record } = await shop.capture.shutter(session, PLACE);
    await shop.capture.addPhotograph(session, record, picture(3), 'wide');
    const told: (string | null)[] = [];
    workshop.server.fault = () => {
      told.push(workshop.server.unsent);
      return null;
    };
    await shop.exchange.sendNow();
    expect(told).toContain('3');
    await shop.exchange.sendNow();
    expect(workshop.server.unsent).toBe('0');
  });

  it('says that a lead ended this tablet, keeps what waits, and sends it once enrolled again', async () => {
    const shop = await workshop.tablet();
    const session = await signIn(shop);
    workshop.server.ended = 't0';
    const { record } = await shop.capture.shutter(session, PLACE);
    const state = await shop.exchange.sendNow();
    expect(state.shut).toMatchObject({ code: 'device_ended' });
    expect(state.problem).toContain('left on the ferry');
    expect((await shop.status.waiting()).entries).toBe(1);
    await shop.close();
    workshop.server.isAway = true;
    const again = await workshop.shop();
    expect(again.exchange.state.shut?.message).toContain('left on the ferry');
    expect((await again.exchange.sendNow()).shut).not.toBeNull();
    workshop.server.isAway = false;
    await again.enrolment.enrol('123456');
    expect((await again.exchange.sendNow()).shut).toBeNull();
    expect((await again.status.waiting()).entries).toBe(0);
    expect(workshop.server.entries().filter((one) => one.record === record)).toHaveLength(1);
  });

  it('says that the server is away and loses nothing', async () => {
    const shop = await workshop.tablet();
    const session = await signIn(shop);
    workshop.server.isAway = true;
    await shop.capture.shutter(session, PLACE);
    expect(await shop.exchange.sendNow()).toMatchObject({ away: true, problem: null });
    expect((await shop.status.waiting()).entries).toBe(1);
  });

  it('shows a refused entry, sends it never again, and lets the rest go on', async () => {
    const shop = await workshop.tablet();
    const session = await signIn(shop);
    const first = await shop.capture.shutter(session, PLACE);
    const [bad] = Object.keys(await shop.book.verdicts(first.record));
    workshop.server.refuse.add(bad as string);
    await shop.capture.shutter(session, PLACE);
    const state = await shop.exchange.sendNow();
    expect(state.refused).toEqual([
      {
        ...{ id: bad, code: 'wrong_shape', reason: 'Refused by the test.' },
        ...{ record: first.record, kind: 'defect' },
      },
    ]);
    await shop.exchange.sendNow();
    expect(workshop.server.refused).toEqual([bad]);
    expect((await shop.status.waiting()).entries).toBe(0);
    expect(workshop.server.entries().filter(({ kind }) => kind === 'defect')).toHaveLength(1);
  });

  it('offers everything again, files too, when the server was restored from a backup', async () => {
    const shop = await workshop.tablet();
    const session = await signIn(shop);
    const length = workshop.server.log.length;
    const { record } = await shop.capture.shutter(session, PLACE);
    const { sha256 } = await shop.capture.addPhotograph(session, record, picture(5), 'wide');
    await workshop.server.write(LEAD, [
      { record: 'tablet-c', kind: 'tablet', set: { letter: 'D' } },
    ]);
    await shop.exchange.sendNow();
    const before = workshop.server.ids();
    workshop.server.restore(length, [sha256]);
    await shop.exchange.sendNow();
    expect(workshop.server.ids()).toEqual(before);
    expect(workshop.server.files.has(sha256)).toBe(true);
    expect((await shop.status.line()).waiting_words).toBe('Nothing waiting');
  });

  it('offers everything again when a log was put back in silence and filled so that its cursor holds', async () => {
    const shop = await workshop.tablet();
    const session = await signIn(shop);
    const begun = workshop.server.log.length;
    const lost = await shop.capture.shutter(session, PLACE);
    await shop.exchange.sendNow();
    await shop.capture.shutter(session, PLACE);
    await shop.exchange.sendNow();
    // The log is put back; another tablet's entry comes in the place of the first, the second again.
    const last = workshop.server.log.at(-1);
    workshop.server.restore(begun);
    await workshop.server.write(LEAD, [{ record: 'x', kind: 'tablet', set: { letter: 'B' } }]);
    if (last) workshop.server.log.push(last);
    await shop.exchange.sendNow();
    expect(workshop.server.entries().some(({ record }) => record === lost.record)).toBe(false);
    workshop.now_ms += 3_600_000;
    const state = await shop.exchange.sendNow();
    expect(state).toMatchObject({ problem: null, away: false });
    expect(workshop.server.entries().some(({ record }) => record === lost.record)).toBe(true);
    expect(await shop.book.plain('x')).toMatchObject({ letter: 'B' });
    expect((await shop.status.waiting()).entries).toBe(0);
  });

  it('sends photographs though the comparison of the logs fails, and asks for it once an hour', async () => {
    const { server } = workshop;
    let asked = 0;
    const failing = async (address: string, init: RequestInit) => {
      if (!address.startsWith('/api/entries/digest')) return server.fetch(address, init);
      asked += 1;
      return new Response('{"code":"fault","message":"The server failed.","hint":""}', {
        status: 500,
      });
    };
    const shop = await workshop.tablet(failing as typeof fetch);
    const session = await signIn(shop);
    const { record } = await shop.capture.shutter(session, PLACE);
    const send = async (own: number) => {
      const bytes = picture(own);
      const { sha256 } = await shop.capture.addPhotograph(session, record, bytes, 'wide');
      const state = await shop.exchange.sendNow();
      expect(server.files.has(sha256)).toBe(true);
      return state;
    };
    expect(asked).toBe(1);
    workshop.now_ms += 3_600_000;
    const told = await send(6);
    expect(asked).toBe(2);
    expect(told.problem ?? told.away).toBeTruthy();
    expect(await send(7)).toMatchObject({ problem: null, away: false });
    expect(asked).toBe(2);
  });

  it('stops at the server of another book', async () => {
    const shop = await workshop.tablet();
    const session = await signIn(shop);
    await shop.capture.shutter(session, PLACE);
    workshop.server.book = 'another';
    const state = await shop.exchange.sendNow();
    expect(state.problem).toContain('This tablet holds another book.');
    expect((await shop.status.waiting()).entries).toBe(1);
  });

  it('takes corrected time from the server and a new writer where its clock was ahead', async () => {
    const shop = await workshop.tablet();
    const session = await signIn(shop);
    const writerOf = async () => {
      const { record } = await shop.capture.shutter(session, PLACE);
      const [id] = Object.keys(await shop.book.verdicts(record));
      return [id?.slice(-8), Number(id?.slice(0, 13))] as const;
    };
    const [first] = await writerOf();
    workshop.server.ahead_ms = -3_600_000;
    await shop.exchange.sendNow();
    const [second, at_ms] = await writerOf();
    expect(second).not.toBe(first);
    expect(at_ms).toBe(workshop.now_ms - 3_600_000);
    expect(shop.now()).toBe(workshop.now_ms - 3_600_000);
    expect((await writerOf())[0]).toBe(second);
    await shop.exchange.sendNow();
    expect((await shop.status.waiting()).entries).toBe(0);
  });

  it('fetches a book of several pages with acts whole', async () => {
    const drafts = (n: number) =>
      [0, 1, 2].map((at) => ({
        record: `survey-${n}-${at}`,
        kind: 'survey',
        set: { title: `${n}` },
      }));
    for (let n = 0; n < 400; n += 1) await workshop.server.write(LEAD, drafts(n));
    const shop = await workshop.tablet();
    expect(await shop.book.records('survey')).toHaveLength(1200);
    const pulls = workshop.server.asked.filter((one) => one === 'GET /api/entries');
    expect(pulls).toHaveLength(2);
  });

  it.each([11, 23, 47, 91])(
    'counts exactly what waits after every step, whatever fails on the way (seed %i)',
    async (seed) => {
      console.log(`seed ${seed}`);
      const random = seeded(seed);
      const day: Day = { random, records: [], photographs: [], steps: 0 };
      const heard = listening();
      const shop = await workshop.tablet(heard.fetch);
      const session = await signIn(shop);
      const faults: Fault[] = ['lost', 'answer lost', 'answer cut', null, null, null];
      workshop.server.fault = () => faults[Math.floor(random() * faults.length)] ?? null;
      while (day.steps < 60) {
        await step(shop, session, day);
        const { entries, records, photographs } = await shop.status.waiting();
        expect({ entries, records, photographs }).toEqual(await expected(shop, heard));
      }
      workshop.server.fault = () => null;
      await shop.exchange.sendNow();
      expect((await shop.status.line()).waiting_words).toBe('Nothing waiting');
      expect(await expected(shop, there())).toEqual({ entries: 0, records: 0, photographs: 0 });
    },
    20_000,
  );

  it.each([13, 29, 53])(
    'brings everything back to a server that loses its newest entries (seed %i)',
    async (seed) => {
      console.log(`seed ${seed}`);
      const random = seeded(seed);
      const day: Day = { random, records: [], photographs: [], steps: 0 };
      const shop = await workshop.tablet();
      const session = await signIn(shop);
      while (day.steps < 50) {
        if (random() < 0.1) workshop.server.restore(workshop.server.log.length - 3);
        const done = await step(shop, session, day);
        if (done === 'work') continue;
        const { entries, records, photographs } = await shop.status.waiting();
        expect({ entries, records, photographs }).toEqual(await expected(shop, there()));
        expect(entries).toBe(0);
      }
    },
    20_000,
  );

  it('sends nothing twice from two tabs of one browser', async () => {
    const one = await workshop.tablet();
    const session = await signIn(one);
    const two = await workshop.shop();
    await one.capture.shutter(session, PLACE);
    const theirs = await signIn(two);
    const { number } = await two.capture.shutter(theirs, PLACE);
    expect(number).toBe('A/0002');
    await Promise.all([one.exchange.sendNow(), two.exchange.sendNow()]);
    await two.exchange.sendNow();
    expect((await one.status.waiting()).entries).toBe(0);
    const sent = workshop.server.entries().filter(({ kind }) => kind === 'defect');
    expect(sent.map(({ set }) => set.number).sort()).toEqual(['A/0001', 'A/0002']);
    expect(new Set(sent.map(({ id }) => id.slice(-8))).size).toBe(2);
  });
});

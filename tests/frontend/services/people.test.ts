import 'fake-indexeddb/auto';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { OpenShop } from '../../../frontend/src/services/open';
import { FITTER, INSPECTOR, LEAD, PASSCODES, PLACE, Workshop } from './bench';

const DAY_MS = 86_400_000;
let workshop: Workshop;
let shop: OpenShop;

beforeEach(async () => {
  workshop = await new Workshop().open();
  shop = await workshop.tablet();
});
afterEach(() => workshop.close());

const unlock = (person: string, passcode = PASSCODES[person] as string) =>
  shop.people.unlock(person, passcode);

describe('unlock', () => {
  it('checks a passcode with no network', async () => {
    workshop.server.isAway = true;
    const session = await unlock(INSPECTOR);
    expect(session).toMatchObject({ name: 'Inspector 1', role: 'inspector', online: false });
    expect(session.role_entry).toMatch(/server00$/);
    await expect(unlock(FITTER, '000000')).rejects.toMatchObject({ code: 'wrong_passcode' });
  });

  it('opens a session at the server too when it is there', async () => {
    await unlock(INSPECTOR);
    await expect.poll(() => shop.session?.online).toBe(true);
  });

  it('takes a passcode that the server knows and this tablet does not know yet', async () => {
    workshop.server.passcodes[INSPECTOR] = 'new passcode';
    expect((await unlock(INSPECTOR, 'new passcode')).online).toBe(true);
  });

  it('slows after five wrong passcodes, wipes nothing, and other people may go on', async () => {
    workshop.server.isAway = true;
    const { number } = await shop.capture.shutter(await unlock(INSPECTOR), PLACE);
    for (let n = 0; n < 5; n += 1) await expect(unlock(LEAD, '1')).rejects.toThrow('not right');
    await expect(unlock(LEAD)).rejects.toMatchObject({ code: 'too_soon' });
    expect((await unlock(FITTER)).name).toBe('Fitter 1');
    workshop.now_ms += 15_000;
    expect((await unlock(LEAD)).name).toBe('Lead');
    expect((await shop.book.numbered(number)).length).toBe(1);
  });

  it('says that a tablet can’t check somebody it never heard of', async () => {
    for (const one of workshop.server.people) one.unlock = null;
    await shop.people.fetch();
    workshop.server.isAway = true;
    await expect(unlock(INSPECTOR)).rejects.toMatchObject({ code: 'not_known_here' });
  });
});

describe('somebody whose role was withdrawn', () => {
  const withdraw = async (person: string) => {
    const one = workshop.server.people.find((row) => row.person === person) as { role: unknown };
    const relies = [workshop.server.people[0]?.role_entry as string];
    const role = { role: null, from: '2025-11-03', upto: [] };
    const before = (one as { role_entry?: string }).role_entry as string;
    const seen = { role: [before] };
    await workshop.server.write(LEAD, [
      { record: person, kind: 'person', set: { role }, seen, relies },
    ]);
    return one;
  };

  it('is out at once when the tablet hears of it, and what was begun stays stored', async () => {
    const session = await unlock(INSPECTOR);
    await shop.drafts.write(session, '/airframe/A0001', { depth: '0.01' });
    const { number } = await shop.capture.shutter(session, PLACE);
    (await withdraw(INSPECTOR)).role = null;
    await shop.exchange.sendNow();
    expect(shop.session).toBeNull();
    expect(shop.people.ended?.message).toBe(
      'Inspector 1 has no role in this book any more and can’t sign in.',
    );
    expect((await shop.book.numbered(number)).length).toBe(1);
    expect(await shop.drafts.read(session, '/airframe/A0001')).toEqual({ depth: '0.01' });
    workshop.server.isAway = true;
    await expect(unlock(INSPECTOR)).rejects.toMatchObject({ code: 'no_role' });
    expect((await unlock(FITTER)).name).toBe('Fitter 1');
    expect(shop.people.ended).toBeNull();
  });

  it('is kept out by the book alone where the list of people did not come any more', async () => {
    await withdraw(INSPECTOR);
    await shop.exchange.sendNow();
    workshop.server.isAway = true;
    await expect(unlock(INSPECTOR)).rejects.toMatchObject({ code: 'no_role' });
  });

  it('is out after a reload', async () => {
    await unlock(INSPECTOR);
    await withdraw(INSPECTOR);
    await shop.exchange.sendNow();
    await shop.close();
    const again = await workshop.shop();
    expect(again.session).toBeNull();
  });

  it('is out when the server says so before the tablet has heard of it', async () => {
    const one = workshop.server.people.find(({ person }) => person === INSPECTOR);
    if (one) one.role = null;
    await unlock(INSPECTOR);
    await expect.poll(() => shop.session).toBeNull();
    expect(shop.people.ended?.code).toBe('no_role');
  });

  it('comes last in the list, and is let in once a role is given again', async () => {
    const one = await withdraw(INSPECTOR);
    one.role = null;
    await shop.exchange.sendNow();
    expect((await shop.people.list()).map(({ name }) => name)).toEqual([
      'Fitter 1',
      'Lead',
      'Inspector 1',
    ]);
    one.role = 'clerk';
    const last = workshop.server.entries().at(-1)?.id as string;
    const role = { role: 'clerk', from: '2025-11-03' };
    const relies = [workshop.server.people[0]?.role_entry as string];
    await workshop.server.write(LEAD, [
      { record: INSPECTOR, kind: 'person', set: { role }, seen: { role: [last] }, relies },
    ]);
    await shop.exchange.sendNow();
    expect((await unlock(INSPECTOR)).role).toBe('clerk');
  });
});

describe('change of person', () => {
  it('keeps the drafts of each person', async () => {
    const one = await unlock(INSPECTOR);
    await shop.drafts.write(one, '/airframe/A0001', { depth: '0.01' });
    await shop.people.leave();
    expect(shop.session).toBeNull();
    const two = await unlock(FITTER);
    expect(await shop.drafts.read(two, '/airframe/A0001')).toBeNull();
    await shop.drafts.write(two, '/airframe/A0001', { depth: '0.7' });
    const again = await unlock(INSPECTOR);
    expect(await shop.drafts.read(again, '/airframe/A0001')).toEqual({ depth: '0.01' });
  });

  it('goes on with the session after a reload, and not the next day', async () => {
    await unlock(INSPECTOR);
    await shop.places.keepAddress(shop.session as never, '/airframe/A0003');
    await shop.close();
    const again = await workshop.shop();
    expect(again.session?.person).toBe(INSPECTOR);
    expect(await again.places.address(again.session as never)).toBe('/airframe/A0003');
    await again.close();
    workshop.now_ms += DAY_MS;
    expect((await workshop.shop()).session).toBeNull();
  });
});

describe('authority', () => {
  it('lapses 14 days after the last contact; recording goes on', async () => {
    const lead = await unlock(LEAD);
    const { record } = await shop.capture.shutter(lead, PLACE);
    await shop.capture.setFields(lead, record, { kind: 'crack', no_photograph: 'dark' });
    await shop.moves.raise(lead, record);
    workshop.server.isAway = true;
    const assess = () =>
      shop.moves.makeMove(lead, record, 'assess', {
        set: { disposition: 'Repair by patch', reason: 'deep' },
      });
    workshop.now_ms += 14 * DAY_MS + 1;
    const late = await unlock(LEAD);
    expect(late.may_decide).toBe(false);
    await expect(assess()).rejects.toMatchObject({ code: 'authority_lapsed' });
    expect(await shop.moves.open(late, record)).not.toContain('assess');
    expect((await shop.capture.shutter(late, PLACE)).number).toBe('A/0002');
    workshop.server.isAway = false;
    await shop.exchange.sendNow();
    expect(shop.session?.may_decide).toBe(true);
    await assess();
    expect(await shop.book.defect(record)).toMatchObject({ state: 'Assessed' });
  });
});

import { describe, expect, it } from 'vitest';
import {
  byUse,
  type DeviceRow,
  deviceName,
  heldWords,
  inOrder,
  minuteOf,
  readRegister,
  unsentWords,
  whyNot,
} from '../../../frontend/src/screens/people/register';
import type { Shop } from '../../../frontend/src/services/shop';

const device = (name: string, more: Partial<DeviceRow> = {}): DeviceRow => ({
  device: name,
  letter: null,
  enrolled_by: 'p1',
  enrolled_at: '2025-03-01T09:00:00.000+00:00',
  last_seen: null,
  unsent: null,
  shut: null,
  ...more,
});

const person = (name: string, role: string | null) => ({
  ...{ person: name, name, role, stamp_number: null },
});

/** A shop whose server answers with what is given, or does not answer. */
function shopOf(session: object | null, answers: Record<string, unknown>): Shop {
  const get = async (path: string) => {
    if (!(path in answers)) throw new Error(`no answer to ${path}`);
    return answers[path];
  };
  const people = { list: async () => [person('As last known', 'clerk')] };
  return { session, api: { get }, people } as unknown as Shop;
}

describe('the register of people and devices', () => {
  it('puts people by name and those without a role last', () => {
    const rows = [person('Fitter 2', null), person('Lead', 'lead'), person('Fitter 1', 'fitter')];
    expect(inOrder(rows).map(({ name }) => name)).toEqual(['Fitter 1', 'Lead', 'Fitter 2']);
  });

  it('puts devices in use before those shut, and of each the last seen first', () => {
    const rows = [
      device('shut', { shut: 'Tablet A was ended by a lead: lost.', last_seen: '2025-11-03T11' }),
      device('old', { last_seen: '2025-10-01T08:00' }),
      device('new', { last_seen: '2025-11-03T08:15' }),
      device('never seen', { enrolled_at: '2025-10-20T10:00' }),
    ];
    const order = byUse(rows).map((one) => one.device);
    expect(order).toEqual(['new', 'never seen', 'old', 'shut']);
  });

  it('says what is known of a device and what is not', () => {
    expect([deviceName({ letter: 'B' }), deviceName({ letter: null })]).toEqual([
      'Tablet B',
      'Desk',
    ]);
    expect(minuteOf('2025-11-03T08:15:30.250+00:00')).toBe('2025-11-03 08:15');
    expect(minuteOf(null)).toBe('not since it was enrolled');
    expect([null, 0, 14].map(unsentWords)).toEqual(['not told', 'nothing', '14']);
    expect([heldWords('bench_fitter'), heldWords(null)]).toEqual(['bench fitter', 'no role now']);
  });

  it('shows devices to a lead whom the server knows, and to nobody else', async () => {
    const answers = { '/api/people': [person('Lead', 'lead')], '/api/devices': [device('A')] };
    const lead = { role: 'lead', online: true };
    expect((await readRegister(shopOf(lead, answers))).devices).toHaveLength(1);
    for (const other of [{ ...lead, online: false }, { role: 'clerk', online: true }, null])
      expect((await readRegister(shopOf(other, answers))).devices).toBeNull();
  });

  it('shows people as last known where the server is away, and fails for devices', async () => {
    const clerk = { role: 'clerk', online: false };
    const { people } = await readRegister(shopOf(clerk, {}));
    expect(people.map(({ name }) => name)).toEqual(['As last known']);
    const lead = { role: 'lead', online: true };
    await expect(readRegister(shopOf(lead, {}))).rejects.toThrow('/api/devices');
  });

  it('says why nothing can be changed', () => {
    expect(whyNot(shopOf({ role: 'lead', online: true }, {}))).toBeUndefined();
    expect(whyNot(shopOf({ role: 'lead', online: false }, {}))).toBe('the server is not in reach');
    expect(whyNot(shopOf({ role: 'inspector', online: true }, {}))).toBe('for a lead');
  });
});

/** The people and devices of the book, as the server lists them. */

import type { Shop } from '../../services/shop';
import { roleWords } from '../frame/words';

export interface PersonRow {
  person: string;
  name: string;
  role: string | null;
  stamp_number: string | null;
}

export interface DeviceRow {
  /** Record of the tablet. */
  device: string;
  letter: string | null;
  enrolled_by: string;
  enrolled_at: string;
  last_seen: string | null;
  unsent: number | null;
  /** Why its token is refused; null while it is good. */
  shut: string | null;
}

export interface Register {
  people: PersonRow[];
  /** null: shown to a lead only. */
  devices: DeviceRow[] | null;
}

/** Asks the server; people as last known here where it is away. */
export async function readRegister(shop: Shop): Promise<Register> {
  const people = await shop.api.get<PersonRow[]>('/api/people').catch(() => shop.people.list());
  const isLead = shop.session?.role === 'lead' && shop.session.online;
  const devices = isLead ? await shop.api.get<DeviceRow[]>('/api/devices') : null;
  return { people: inOrder(people), devices };
}

/** By name, those without a role last. */
export function inOrder(people: readonly PersonRow[]): PersonRow[] {
  const isLast = (one: PersonRow) => Number(!one.role);
  return [...people].sort((a, b) => isLast(a) - isLast(b) || a.name.localeCompare(b.name));
}

/** "Tablet A", or "Desk". */
export function deviceName({ letter }: Pick<DeviceRow, 'letter'>): string {
  return letter ? `Tablet ${letter}` : 'Desk';
}

/** "fitter", or "no role now". */
export function heldWords(role: string | null): string {
  return role ? roleWords(role) : 'no role now';
}

/** "2025-11-03 08:15" of a wall time. */
export function minuteOf(wall: string | null): string {
  return wall ? wall.slice(0, 16).replace('T', ' ') : 'not since it was enrolled';
}

/** What a device said last of the entries and files that wait on it. */
export function unsentWords(unsent: number | null): string {
  if (unsent === null) return 'not told';
  return unsent === 0 ? 'nothing' : String(unsent);
}

/** Devices in use first; of each group the one seen last first. */
export function byUse(devices: readonly DeviceRow[]): DeviceRow[] {
  const seen = (one: DeviceRow) => one.last_seen ?? one.enrolled_at;
  return [...devices].sort(
    (a, b) => Number(a.shut !== null) - Number(b.shut !== null) || (seen(a) < seen(b) ? 1 : -1),
  );
}

/** Why this person can't change anything here now; undefined for a lead whom the server knows. */
export function whyNot(shop: Shop): string | undefined {
  if (shop.session?.role !== 'lead') return 'for a lead';
  return shop.session.online ? undefined : 'the server is not in reach';
}

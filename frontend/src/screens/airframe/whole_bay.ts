import type { Definition, Place } from '../../services/shop';
import type { Structure } from './window';

export const BAY_ONLY = 'bay only';

/** A place set by its bay: the middle of the bay, known to half a bay; at the last member itself. */
export function wholeBay(structure: Structure, place: Place): Place {
  const [from, to] = baySpan(structure, place.member) ?? [0, 0];
  const middle = String(Number(((to - from) / 2).toFixed(3)));
  const unit = structure.unit === 'mm' ? 'mm' : 'in';
  const { to: _other, ...kept } = place;
  const precision = to > from ? BAY_ONLY : 'exact';
  return { ...kept, offset: { value: middle, unit }, precision };
}

/** The same, the structure being looked up. */
export function wholeBayOf(definition: Definition, place: Place): Place {
  const structure = definition.structures.find((one) => one.name === place.structure);
  return structure ? wholeBay(structure, place) : place;
}

/** Stations of a member and of the next; null at the last. */
export function baySpan(structure: Structure, member: string): [from: number, to: number] | null {
  const at = structure.members.findIndex((one) => one.name === member);
  const next = structure.members[at + 1];
  if (at < 0 || !next) return null;
  return [Number(structure.members[at]?.station), Number(next.station)];
}

/** Stations that a place takes in: the whole bay where only that is known. */
export function reachOf(structure: Structure, place: Place, station: number): [number, number] {
  const bay = place.precision === BAY_ONLY ? baySpan(structure, place.member) : null;
  return bay ?? [station, station];
}

/** "F5–F6"; at the last member its name. */
export function bayName(structure: Structure, place: Place): string {
  const at = structure.members.findIndex((one) => one.name === place.member);
  const next = structure.members[at + 1]?.name;
  return at >= 0 && next ? `${place.member}–${next}` : place.member;
}

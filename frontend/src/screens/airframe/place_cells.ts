import { stationOf, zoneOf } from '../../domain/place';
import type { PositionCell } from '../../furniture';
import type { Definition, Place } from '../../services/shop';
import type { Cell } from './choices';
import { HAND_SHORT, HAND_WORDS, nextHand } from './hands';
import { BAY_ONLY, bayName } from './whole_bay';
import type { Structure } from './window';

/** The place at a touched station: the member before it, offset to the nearest half inch. */
export function placeAtStation(
  structure: Structure,
  place: Place,
  station: number,
  strake: Partial<Place>,
): Place {
  const stations = structure.members.map((member) => Number(member.station));
  const at = Math.max(
    stations.findLastIndex((one) => one <= station),
    0,
  );
  const half = Math.round((station - (stations[at] ?? 0)) * 2) / 2;
  const next = stations[at + 1];
  const full = next !== undefined && (stations[at] ?? 0) + half >= next;
  const member = structure.members[full ? at + 1 : at]?.name ?? place.member;
  const value = full ? '0' : String(Math.max(half, 0));
  const offset = { value, unit: place.offset.unit };
  return { ...place, ...strake, member, offset, precision: 'exact' };
}

/** Cells of the position bar: each opens its choice, the hand changes by one touch. */
export function positionCells(
  where: { definition: Definition; structure: Structure; place: Place },
  open: string | null,
  setOpen: (cell: Cell | null) => void,
  setPlace: (place: Place) => void,
): PositionCell[] {
  const { definition, structure, place } = where;
  const cell = (name: Cell, caption: string, value: string, wide = false): PositionCell => ({
    ...{ caption, value, wide, open: open === name },
    onOpen: () => setOpen(open === name ? null : name),
  });
  const station = stationOf(definition, place).value;
  const zone = zoneWords(definition, place) ?? 'none';
  // Of a bay nobody has said yet how far aft: the cell says that it can be typed.
  const along =
    place.precision === BAY_ONLY
      ? `Type + ${place.offset.unit} ${structure.positive}`
      : `${structure.axis} ${Number(station)}`;
  const cells = [
    cell('structure', 'Structure', place.structure),
    handCell(nextHand(definition, place), place, setPlace),
    cell('member', `${along} · zone ${zone}`, memberWords(where), true),
  ];
  if (place.strakes) cells.push(cell('strakes', 'Strakes', place.strakes.join('–')));
  if ((structure.faces?.length ?? 0) > 0) cells.push(cell('face', 'Face', place.face ?? '–'));
  return cells;
}

function handCell(
  other: Place | null,
  place: Place,
  setPlace: (place: Place) => void,
): PositionCell {
  return {
    caption: other ? `Hand, next ${HAND_SHORT[other.hand]}` : 'Hand',
    value: HAND_WORDS[place.hand] ?? place.hand,
    ...(other ? { onOpen: () => setPlace(other) } : {}),
  };
}

function memberWords({ structure, place }: { structure: Structure; place: Place }): string {
  if (place.precision === BAY_ONLY) return bayName(structure, place);
  if (Number(place.offset.value) === 0) return place.member;
  return `${place.member} + ${place.offset.value} ${structure.positive}`;
}

/** Zone of a place; null outside the airframe, where nothing may be raised. */
export function zoneWords(definition: Definition, place: Place): string | null {
  try {
    return zoneOf(definition, place);
  } catch {
    return null;
  }
}

import {
  atStation,
  bayAt,
  endTenthNm,
  membersInOrder,
  structureOf,
} from '../../domain/place_stations';
import { placesOf, toTenthNm } from '../../domain/quantities';
import type { Definition, Json, Place } from '../../services/shop';

/** Distance from hole to hole, and the rivet line that says so. */
export interface Pitch {
  value: string;
  unit: 'in' | 'mm';
  line: string;
}

/** The pitch of the rivet lines of a record's structure; the one whose record lies nearest. */
export function pitchHere(
  lines: readonly Record<string, Json>[],
  stations: ReadonlyMap<string, number>,
  station: number,
): Pitch | null {
  const near = lines
    .flatMap((line) => {
      const at = stations.get(String(line.defect));
      const pitch = pitchOf(line);
      return at === undefined || !pitch ? [] : [{ pitch, away: Math.abs(at - station) }];
    })
    .sort((a, b) => a.away - b.away);
  return near[0]?.pitch ?? null;
}

function pitchOf(line: Record<string, Json>): Pitch | null {
  const design = (line.design ?? {}) as Record<string, Json>;
  const pitch = design.pitch as { value?: unknown; unit?: unknown } | undefined;
  if (typeof pitch?.value !== 'string' || (pitch.unit !== 'in' && pitch.unit !== 'mm')) return null;
  return { value: pitch.value, unit: pitch.unit, line: String(line.name ?? 'the rivet line') };
}

/** One hole aft or forward: the place moves by the pitch, across a member too; null at an end. */
export function stepHole(
  definition: Definition,
  place: Place,
  pitch: Pitch,
  step: 1 | -1,
): Place | null {
  const structure = structureOf(definition, place);
  const station = endTenthNm(structure, place) + BigInt(step) * toTenthNm(pitch);
  const { stations } = membersInOrder(structure);
  if (bayAt(structure, station) < 0 || station > (stations.at(-1) ?? 0n)) return null;
  const fine = Math.max(placesOf(pitch.value), placesOf(place.offset.value), 1);
  const { to: _end, ...kept } = place;
  return { ...kept, ...atStation(structure, station, fine), precision: 'exact' };
}

/** Cells of the area that a stage closes: which are in it, in which zone, and who looked at them. */

import { cellOf, zoneOf } from '../domain/place';
import type { Definition, Json, Place } from './shop';

type Structure = Definition['structures'][number];

/** Part of an area. What is left out is not limited: no members are the whole structure. */
export interface AreaPart {
  structure: string;
  hand?: string;
  /** First and last member. */
  members?: [string, string];
  /** Lowest and highest strake. */
  strakes?: [string, string];
}

export interface CellSeen {
  structure: string;
  hand: string;
  bay: [string, string];
  /** "K–B1", "lower skin", or nothing where a bay is one cell. */
  row: string;
  zone: string;
  looked_at: boolean;
  /** Why nobody could look. */
  blocked: string | null;
}

interface Row {
  name: string;
  strakes?: [string, string];
  face?: string;
}

/** Every cell of an area with what the surveys say of it; zones whose cells nobody counts are left out. */
export function cellsOf(
  area: readonly AreaPart[],
  definition: Definition,
  coverage: readonly Record<string, Json>[],
): CellSeen[] {
  const seen = seenOf(coverage, definition);
  const counting = definition.zones.filter((one) => one.cells);
  // Where no zone says how many cells it has, those of every zone are counted.
  const zones = counting.length > 0 ? counting : definition.zones;
  const counted = new Set(zones.map((one) => one.zone));
  return area
    .flatMap((part) => {
      const structure = definition.structures.find((one) => one.name === part.structure);
      return structure ? partCells(part, structure, definition, seen) : [];
    })
    .filter((cell) => counted.has(cell.zone));
}

/** "Port wing R4–R5": bays of an area that a look names without a face; it counts for none. */
export function looksAtNoFace(
  area: readonly AreaPart[],
  definition: Definition,
  coverage: readonly Record<string, Json>[],
): string[] {
  const found = coverage.flatMap((record) => {
    const cell = record.cell as Record<string, Json> | null;
    const structure = definition.structures.find((one) => one.name === cell?.structure);
    if (!cell || !structure || record.looked_at !== true || cell.face) return [];
    if (structure.strakes.length > 0 || structure.faces.length === 0) return [];
    const bays = baysOf(structure, pairOf(cell.bay)).map(String);
    const isIn = area.some(
      (part) =>
        part.structure === structure.name &&
        handsOf(structure, part).includes(String(cell.hand)) &&
        baysOf(structure, part.members).some((bay) => bays.includes(String(bay))),
    );
    return isIn ? [`${structure.name} ${pairOf(cell.bay)?.join('–') ?? ''}`] : [];
  });
  return [...new Set(found)];
}

function baysOf(structure: Structure, ends: [string, string] | undefined): [string, string][] {
  return pairsOf(
    between(
      structure.members.map((member) => member.name),
      ends,
    ),
  );
}

function partCells(
  part: AreaPart,
  structure: Structure,
  definition: Definition,
  seen: Map<string, Seen>,
): CellSeen[] {
  const bays = baysOf(structure, part.members);
  return handsOf(structure, part).flatMap((hand) =>
    bays.flatMap((bay) =>
      rowsOf(structure, part.strakes).map((row) => {
        const found = seen.get(keyOf(structure.name, hand, bay, row.name));
        return {
          ...{ structure: structure.name, hand, bay, row: row.name },
          zone: zoneOfCell(definition, structure, hand, bay, row),
          looked_at: found?.looked_at ?? false,
          blocked: found?.blocked ?? null,
        };
      }),
    ),
  );
}

/** Whether a place lies in an area; what has no place lies in none. */
export function inArea(
  area: readonly AreaPart[],
  definition: Definition,
  place: Place | null,
): boolean {
  if (!place) return false;
  return area.some((part) => {
    const structure = definition.structures.find((one) => one.name === part.structure);
    return structure?.name === place.structure && isWithin(part, structure, definition, place);
  });
}

function isWithin(
  part: AreaPart,
  structure: Structure,
  definition: Definition,
  place: Place,
): boolean {
  // A place may hold anything: another tablet's version, or no place at all.
  const cell = refusedAsNull(() => cellOf(definition, place));
  if (!cell || (part.hand && cell.hand !== part.hand)) return false;
  const bays = baysOf(structure, part.members).map(String);
  if (!bays.includes(String(cell.bay))) return false;
  if (!part.strakes || !cell.strakes) return true;
  const strakes = pairsOf(between(structure.strakes, part.strakes)).map(String);
  return strakes.includes(String(cell.strakes));
}

/** The keel line is counted in the cells beside it, so a structure of two hands has no centre. */
function handsOf(structure: Structure, part: AreaPart): string[] {
  const sided = structure.hands.filter((hand) => hand !== 'C');
  const hands: string[] = sided.length > 0 ? sided : structure.hands;
  return hands.filter((hand) => !part.hand || hand === part.hand);
}

function rowsOf(structure: Structure, strakes: [string, string] | undefined): Row[] {
  if (structure.strakes.length > 0)
    return pairsOf(between(structure.strakes, strakes)).map((pair) => ({
      name: pair.join('–'),
      strakes: pair,
    }));
  if (structure.faces.length > 0) return structure.faces.map((face) => ({ name: face, face }));
  return [{ name: '' }];
}

function zoneOfCell(
  definition: Definition,
  structure: Structure,
  hand: string,
  [member]: [string, string],
  { strakes }: Row,
): string {
  const offset = { value: '0', unit: structure.unit };
  const place = { structure: structure.name, hand, member, offset, ...(strakes && { strakes }) };
  return refusedAsNull(() => zoneOf(definition, place as unknown as Place)) ?? '';
}

interface Seen {
  looked_at: boolean;
  blocked: string | null;
}

/** What surveys say, by cell: looked at once is looked at. */
function seenOf(
  coverage: readonly Record<string, Json>[],
  definition: Definition,
): Map<string, Seen> {
  const seen = new Map<string, Seen>();
  for (const record of coverage) {
    const cell = record.cell as Record<string, Json> | null;
    const structure = definition.structures.find((one) => one.name === cell?.structure);
    if (!cell || !structure) continue;
    for (const bay of baysOf(structure, pairOf(cell.bay)))
      for (const row of namesOf(structure, cell)) {
        const key = keyOf(structure.name, String(cell.hand), bay, row);
        const before = seen.get(key);
        const blocked = typeof record.blocked === 'string' ? record.blocked : null;
        const looked_at = record.looked_at === true || before?.looked_at === true;
        seen.set(key, { looked_at, blocked: blocked ?? before?.blocked ?? null });
      }
  }
  return seen;
}

/** Rows of cells that a coverage record speaks of. */
function namesOf(structure: Structure, cell: Record<string, Json>): string[] {
  if (structure.strakes.length > 0)
    return rowsOf(structure, pairOf(cell.strakes)).map((row) => row.name);
  return [typeof cell.face === 'string' ? cell.face : ''];
}

function pairOf(value: Json | undefined): [string, string] | undefined {
  return Array.isArray(value) && value.length === 2 ? (value as [string, string]) : undefined;
}

function keyOf(structure: string, hand: string, bay: readonly string[], row: string): string {
  return JSON.stringify([structure, hand, bay, row]);
}

/** Names from the first to the last; all where no ends are given, none where one is unknown. */
function between(names: readonly string[], ends: readonly [string, string] | undefined): string[] {
  if (!ends) return [...names];
  const [from, to] = [names.indexOf(ends[0]), names.indexOf(ends[1])];
  return from < 0 || to < 0 ? [] : names.slice(from, to + 1);
}

function pairsOf(names: readonly string[]): [string, string][] {
  return names.slice(1).map((name, at) => [names[at] as string, name]);
}

function refusedAsNull<T>(ask: () => T): T | null {
  try {
    return ask();
  } catch {
    return null;
  }
}

import type { Json } from '../../services/shop';
import type { Bay } from './bay';
import type { Structure } from './window';

export type CoverageRecord = { record: string } & Record<string, Json>;

/** What is known of cells: those looked at, and why others were not. */
export interface Looks {
  looked: Set<string>;
  /** Faces looked at by cell, of a structure whose faces are looked at one by one. */
  faces?: Map<string, Set<string>>;
  /** Reason by cell, of cells that nobody looked at. */
  blocked: Map<string, string>;
}

/** What is known of one bay: all its cells looked at, or the reason why not. */
export interface BayLooks {
  looked: boolean;
  blocked: string | null;
}

/** Bay (index of its forward member) and signed strake of every cell that a record speaks of. */
export function looksOf(structure: Structure, records: readonly CoverageRecord[]): Looks {
  const looked = new Set<string>();
  const blocked = new Map<string, string>();
  const faces = new Map<string, Set<string>>();
  const every = facesOf(structure);
  for (const record of records) {
    const cells = cellsOf(structure, record.cell);
    if (record.looked_at === true)
      for (const cell of cells) {
        const seen = (faces.get(cell) ?? new Set()).add(faceOf(record.cell));
        faces.set(cell, seen);
        if (every.every((face) => seen.has(face))) looked.add(cell);
      }
    else if (typeof record.blocked === 'string')
      for (const cell of cells) blocked.set(cell, reasons(blocked.get(cell), record.blocked));
  }
  for (const cell of looked) blocked.delete(cell);
  return every.length > 0 ? { looked, blocked, faces } : { looked, blocked };
}

/** Faces that are cells of their own: those of a structure without strakes. */
export function facesOf({ strakes, faces }: Structure): readonly string[] {
  return (strakes?.length ?? 0) > 0 ? [] : (faces ?? []);
}

function faceOf(cell: Json | undefined): string {
  const { face } = (cell ?? {}) as { face?: Json };
  return typeof face === 'string' ? face : '';
}

/** Every reason given for a cell, each once. */
function reasons(before: string | undefined, reason: string): string {
  if (before === undefined || before === reason) return reason;
  return before.split(', ').includes(reason) ? before : `${before}, ${reason}`;
}

/** What is known of a bay as a whole. */
export function bayLooks(structure: Structure, bay: Bay | null, looks: Looks): BayLooks {
  const cells = bay ? cellsOf(structure, { ...bay, strakes: bay.strakes ?? [] } as Json) : [];
  return {
    looked: cells.length > 0 && cells.every((cell) => isLooked(looks, cell, bay?.face)),
    blocked: cells.map((cell) => looks.blocked.get(cell)).find((one) => one !== undefined) ?? null,
  };
}

function isLooked({ looked, faces }: Looks, cell: string, face: string | undefined): boolean {
  return looked.has(cell) || (face !== undefined && faces?.get(cell)?.has(face) === true);
}

/** Name of a cell in the set: bay, then signed strake. */
export function cellName(bay: number, row: number): string {
  return `${bay}:${row}`;
}

function cellsOf(structure: Structure, value: Json | undefined): string[] {
  const cell = (value ?? {}) as { structure?: string; hand?: string } & Record<string, Json>;
  if (cell.structure !== structure.name) return [];
  const strakes = range(strakeIndexes(structure, cell.strakes));
  return range(memberIndexes(structure, cell.bay)).flatMap((bay) =>
    strakes.map((strake) => cellName(bay, cell.hand === 'S' ? -strake - 1 : strake)),
  );
}

function memberIndexes(structure: Structure, pair: Json | undefined): [number, number] {
  const names = structure.members.map((member) => member.name);
  const [from, to] = (pair ?? []) as string[];
  return [names.indexOf(from ?? ''), names.indexOf(to ?? '')];
}

function strakeIndexes(structure: Structure, pair: Json | undefined): [number, number] {
  const names = structure.strakes ?? [];
  const [from, to] = (pair ?? []) as string[];
  return names.length < 2 ? [0, 1] : [names.indexOf(from ?? ''), names.indexOf(to ?? '')];
}

function range([from, to]: [number, number]): number[] {
  return from < 0 || to <= from ? [] : Array.from({ length: to - from }, (_, at) => from + at);
}

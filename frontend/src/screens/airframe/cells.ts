import type { Json } from '../../services/shop';
import type { Structure } from './window';

export type CoverageRecord = { record: string } & Record<string, Json>;

/** Bay (index of its forward member) and signed strake of every cell that was looked at. */
export function lookedAt(structure: Structure, records: CoverageRecord[]): Set<string> {
  const done = new Set<string>();
  for (const record of records) {
    const cell = record.cell as { structure?: string; hand?: string } & Record<string, Json>;
    if (record.looked_at !== true || cell?.structure !== structure.name) continue;
    for (const bay of range(memberIndexes(structure, cell.bay)))
      for (const strake of range(strakeIndexes(structure, cell.strakes)))
        done.add(cellName(bay, cell.hand === 'S' ? -strake - 1 : strake));
  }
  return done;
}

/** Name of a cell in the set: bay, then signed strake. */
export function cellName(bay: number, row: number): string {
  return `${bay}:${row}`;
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

import { NO_ZONE } from '../../domain/place_zones';
import type { DefectRow, Definition, Json } from '../../services/shop';
import { cellsOf } from '../../services/stage_cells';

type Zone = Definition['zones'][number];

/** A zone with what its report will hold. */
export interface ZoneRow {
  zone: string;
  title: string;
  records: number;
  open: number;
  photographs: number;
  /** Cells in it and how many were looked at; none where its cells are counted elsewhere. */
  cells: number;
  looked_at: number;
}

const OPEN = new Set(['Raised', 'Assessed', 'In work', 'Offered', 'Deferred']);

/** Every zone in the order of the definition; last what is in none, where there is a record. */
export function zoneRows(
  definition: Definition,
  rows: readonly DefectRow[],
  coverage: readonly Record<string, Json>[],
): ZoneRow[] {
  const made = new Map(named(definition.zones).map((one) => [one.zone, plain(one)]));
  made.set(NO_ZONE, plain({ zone: NO_ZONE, title: 'Off the aircraft or not placed' }));
  for (const row of rows)
    for (const name of row.zones?.length ? row.zones : [NO_ZONE]) {
      const zone = made.get(name);
      if (!zone) continue;
      zone.records += 1;
      zone.photographs += row.photographs;
      if (row.state && OPEN.has(row.state)) zone.open += 1;
    }
  const area = definition.structures.map(({ name }) => ({ structure: name }));
  for (const cell of cellsOf(area, definition, coverage)) {
    const zone = made.get(cell.zone);
    if (!zone) continue;
    zone.cells += 1;
    if (cell.looked_at) zone.looked_at += 1;
  }
  return [...made.values()].filter((one) => one.zone !== NO_ZONE || one.records > 0);
}

/** A zone of several structures has a rule for each; the first one names it. */
function named(zones: readonly Zone[]): Zone[] {
  const first = new Map<string, Zone>();
  for (const zone of zones) if (!first.has(zone.zone)) first.set(zone.zone, zone);
  return [...first.values()];
}

function plain({ zone, title }: Pick<Zone, 'zone' | 'title'>): ZoneRow {
  return { zone, title, records: 0, open: 0, photographs: 0, cells: 0, looked_at: 0 };
}

export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** "3 records, 2 open · 24 of 28 cells looked at". */
export function zoneWords(zone: ZoneRow): string {
  const records = `${counted(zone.records, 'record')}${zone.records ? `, ${zone.open} open` : ''}`;
  return `${records} · ${cellWords(zone)}`;
}

export function cellWords({ zone, cells, looked_at }: ZoneRow): string {
  if (zone === NO_ZONE) return 'no cells';
  return cells ? `${looked_at} of ${cells} cells looked at` : 'cells counted beside';
}

/** What the reports of several zones will hold, in one sentence. */
export function holdWords(zones: readonly ZoneRow[]): string {
  const sum = (of: (zone: ZoneRow) => number) => zones.reduce((all, one) => all + of(one), 0);
  const records = sum((one) => one.records);
  return [
    counted(records, 'record'),
    `${sum((one) => one.open)} open`,
    counted(
      sum((one) => one.photographs),
      'photograph',
    ),
    `${sum((one) => one.looked_at)} of ${sum((one) => one.cells)} cells looked at`,
  ].join(', ');
}

/** What stands in the way of a stage, as far as the book holds it. */

import { dayNumber } from '../domain/figures';
import { DISPOSITIONS } from '../domain/kinds';
import type { DefectRow, Definition, Json } from './shop';
import { type AreaPart, type CellSeen, cellsOf, inArea, looksAtNoFace } from './stage_cells';
import type { RivetsHeld } from './stage_rivets';

export interface StageRecord {
  record: string;
  title: string;
  /** What is done at it: "Close port wing bays R4–R8". */
  scope: string;
  date: string;
  area: AreaPart[];
}

export interface DefectLine {
  kind: 'defect';
  number: number;
  row: DefectRow;
  /** It names no stage, but lies in the area. */
  is_unnamed: boolean;
  clears: string;
  who: string;
}

export interface CellsLine {
  kind: 'cells';
  number: number;
  /** Zones that are not whole. */
  zones: { zone: string; all: number; missing: CellSeen[] }[];
  missing: number;
  clears: string;
  who: string;
}

export interface RivetsLine {
  kind: 'rivets';
  number: number;
  name: string;
  /** The defect it was surveyed for. */
  row: DefectRow;
  /** Holes that nobody reached, and holes that wait for a decision. */
  not_reached: string[];
  held: string[];
  clears: string;
  who: string;
}

export type Line = DefectLine | RivetsLine | CellsLine;

export interface StageSheet {
  stage: StageRecord;
  /** Whole days to its date; less than nought: past. Null where it has no date. */
  days: number | null;
  lines: Line[];
  /** Defects of the area that were put off beyond this stage. */
  carried: DefectRow[];
  cells: number;
  cells_looked_at: number;
  /** Bays looked at with no face named, which counts for none of their faces. */
  without_face: string[];
}

type Plain = { record: string } & Record<string, Json>;

const OPEN = new Set(['Raised', 'Assessed', 'In work', 'Offered', 'Deferred']);
const STEP = 10;

/** Stages of the book, the nearest date first. */
export function stagesOf(records: readonly Plain[]): StageRecord[] {
  return records
    .map((one) => ({
      record: one.record,
      title: textOf(one.title),
      scope: textOf(one.scope),
      date: textOf(one.date),
      area: Array.isArray(one.area) ? (one.area as unknown as AreaPart[]) : [],
    }))
    .sort((a, b) => (a.date || '9').localeCompare(b.date || '9') || a.title.localeCompare(b.title));
}

function textOf(value: Json | undefined): string {
  return typeof value === 'string' ? value : '';
}

/** What the book holds of every stage. */
export interface Held {
  rows: readonly DefectRow[];
  coverage: readonly Plain[];
  /** Rivet lines with holes not reached or not decided. */
  rivets: readonly RivetsHeld[];
  stages: readonly StageRecord[];
  definition: Definition | null;
}

/** The sheet of one stage: defects by zone, rivet lines, then what was not looked
 * at, in lines of ten. */
export function stageSheet(stage: StageRecord, held: Held, today: string): StageSheet {
  const { rows, coverage, definition } = held;
  const open = rows.filter(({ state }) => state !== null && OPEN.has(state));
  const isHere = (row: DefectRow) =>
    definition !== null && inArea(stage.area, definition, row.place);
  const blocking = open
    .filter((row) => stageOf(row) === stage.title || (stageOf(row) === null && isHere(row)))
    .sort(byZone);
  const cells = definition ? cellsOf(stage.area, definition, coverage) : [];
  const defects = blocking.map(
    (row): DefectLine => ({
      ...{ kind: 'defect', number: 0, row, is_unnamed: stageOf(row) === null },
      ...nextStep(row),
    }),
  );
  const rivets = rivetsOf(held, stage.title);
  const lines: Line[] = [...defects, ...rivets, ...unseenOf(cells)].map((line, at) => ({
    ...line,
    number: STEP * (at + 1),
  }));
  return {
    stage,
    days: daysTo(stage.date, today),
    lines,
    carried: open.filter((row) => isBeyond(row, stage, held.stages) && isHere(row)),
    cells: cells.length,
    cells_looked_at: cells.filter((cell) => cell.looked_at).length,
    without_face: definition ? looksAtNoFace(stage.area, definition, coverage) : [],
  };
}

function daysTo(date: string, today: string): number | null {
  const [then, now] = [dayNumber(date), dayNumber(today)];
  return then === null || now === null ? null : then - now;
}

/** The stage a defect stands in the way of: the one it was put off to, else its own. */
function stageOf(row: DefectRow): string | null {
  const put_off = row.state === 'Deferred' ? (row.deferral as { to_stage?: string } | null) : null;
  return put_off?.to_stage || row.stage || null;
}

/** Put off to a stage or day after this one. */
function isBeyond(row: DefectRow, stage: StageRecord, stages: readonly StageRecord[]): boolean {
  if (row.state !== 'Deferred' || stageOf(row) === stage.title) return false;
  const { to_date } = (row.deferral ?? {}) as { to_date?: string };
  const date = to_date ?? stages.find((one) => one.title === stageOf(row))?.date ?? '';
  return date > stage.date;
}

function byZone(a: DefectRow, b: DefectRow): number {
  return (
    (a.zone ?? '9').localeCompare(b.zone ?? '9') || (a.number ?? '').localeCompare(b.number ?? '')
  );
}

/** What clears a defect from here, and who is to do it next. */
export function nextStep(row: DefectRow): { clears: string; who: string } {
  const inspected = row.independent ? 'inspected, then independent' : 'inspected';
  switch (row.state) {
    case 'Raised':
      return { clears: 'assessment', who: 'Lead' };
    case 'Offered':
      return {
        clears: row.independent ? 'inspection, then independent' : 'inspection',
        who: 'Inspector',
      };
    case 'Deferred':
      return { clears: `look again by ${row.look_again_by ?? 'no day given'}`, who: 'Lead' };
    case 'Assessed':
      return toStart(row.disposition, inspected);
    default:
      return { clears: `${workOf(row.disposition)}, ${inspected}`, who: 'Fitter' };
  }
}

function toStart(disposition: string | null, inspected: string): { clears: string; who: string } {
  if (disposition === 'Refer to design authority')
    return { clears: 'answer from design authority', who: 'Design authority' };
  if (disposition === 'Look again') return { clears: 'a second look', who: 'Inspector' };
  return { clears: `${workOf(disposition)}, ${inspected}`, who: 'Fitter' };
}

function workOf(disposition: string | null): string {
  return DISPOSITIONS.find((one) => one.disposition === disposition)?.work ?? 'the work';
}

/** Rivet lines surveyed for a defect of the stage. */
function rivetsOf({ rows, rivets }: Held, title: string): RivetsLine[] {
  return rivets.flatMap(({ defect, name, not_reached, held }): RivetsLine[] => {
    const row = rows.find((one) => one.record === defect);
    if (!row || stageOf(row) !== title) return [];
    const step =
      not_reached.length > 0
        ? { clears: lookAt(not_reached.length), who: 'Inspector' }
        : { clears: 'answer from design authority', who: 'Design authority' };
    return [{ kind: 'rivets', number: 0, name, row, not_reached, held, ...step }];
  });
}

function lookAt(count: number): string {
  return count === 1 ? 'look at 1 hole' : `look at ${count} holes`;
}

/** One line for all cells that nobody looked at, by zone. */
function unseenOf(cells: readonly CellSeen[]): CellsLine[] {
  const bundles = new Map<string, CellSeen[]>();
  for (const cell of cells) bundles.set(cell.zone, [...(bundles.get(cell.zone) ?? []), cell]);
  const zones = [...bundles]
    .map(([zone, all]) => ({
      ...{ zone, all: all.length },
      missing: all.filter((cell) => !cell.looked_at),
    }))
    .filter(({ missing }) => missing.length > 0)
    .sort((a, b) => a.zone.localeCompare(b.zone));
  const missing = zones.reduce((sum, one) => sum + one.missing.length, 0);
  if (missing === 0) return [];
  const clears = missing === 1 ? 'one cell to be looked at' : `${missing} cells to be looked at`;
  return [{ kind: 'cells', number: 0, zones, missing, clears, who: 'Inspector' }];
}

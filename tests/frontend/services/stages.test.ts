import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { DefectRow, Definition, Json } from '../../../frontend/src/services/shop';
import { type AreaPart, cellsOf, inArea } from '../../../frontend/src/services/stage_cells';
import { rivetsInTheWay } from '../../../frontend/src/services/stage_rivets';
import {
  type Held,
  nextStep,
  type StageRecord,
  stageSheet,
  stagesOf,
} from '../../../frontend/src/services/stages';

const DATA = 'sample_data/skinpin_demo/data';
const read = (file: string) => JSON.parse(readFileSync(`${DATA}/${file}`, 'utf8'));
const MARRAM = read('definition_2603.json') as Definition;
const STAGES = stagesOf(
  read('histories.json').stages.map((one: Record<string, Json>) => ({ record: 's', ...one })),
);
const [STAGE_1, STAGE_2, STAGE_3, STAGE_4] = STAGES as [
  StageRecord,
  StageRecord,
  StageRecord,
  StageRecord,
];
const TODAY = '2025-11-03';

const hull = (member: string, strakes: string[], hand = 'P') =>
  ({
    ...{ structure: 'Hull', hand, member, strakes, precision: 'exact' },
    offset: { value: '2.0', unit: 'in' },
  }) as unknown as DefectRow['place'];

const row = (number: string, more: Partial<DefectRow>) =>
  ({
    ...{ record: number, number, state: 'Raised', stage: null, zone: '111', place: null },
    ...{ grade: 3, independent: false, disposition: null, deferral: null, look_again_by: null },
    ...more,
  }) as unknown as DefectRow;

const held = (more: Partial<Held>): Held => ({
  ...{ rows: [], coverage: [], rivets: [], stages: STAGES, definition: MARRAM },
  ...more,
});
const numbersOf = (stage: StageRecord, rows: DefectRow[]) =>
  stageSheet(stage, held({ rows }), TODAY).lines.flatMap((line) =>
    line.kind === 'defect' ? [[line.number, line.row.number]] : [],
  );
const saw = (cell: Record<string, Json>, more: Record<string, Json> = {}) => ({
  ...{ record: 'c', cell, looked_at: true },
  ...more,
});

describe('the cells of an area', () => {
  it('are for the whole Marram those that its zones count, 916', () => {
    const cells = cellsOf(STAGE_4.area, MARRAM, []);
    expect(cells).toHaveLength(916);
    const counted = new Map<string, number>();
    for (const { zone, cells = 0 } of MARRAM.zones)
      if (cells) counted.set(zone, (counted.get(zone) ?? 0) + cells);
    const found = new Map<string, number>();
    for (const { zone } of cells) found.set(zone, (found.get(zone) ?? 0) + 1);
    expect(Object.fromEntries(found)).toEqual(Object.fromEntries(counted));
  });

  it('are four rows a bay of the hull bottom on each hand, four faces a bay of a wing', () => {
    expect(cellsOf(STAGE_3.area, MARRAM, [])).toHaveLength(12 * 4 * 2);
    expect(cellsOf(STAGE_1.area, MARRAM, [])).toHaveLength(4 * 4);
    expect(cellsOf(STAGE_2.area, MARRAM, [])).toEqual([]);
  });

  it('are looked at by whole bays, single cells and faces, and once is enough', () => {
    const bay = saw({ structure: 'Hull', hand: 'P', bay: ['F6', 'F8'], strakes: ['K', 'C'] });
    const face = saw({ structure: 'Port wing', hand: 'P', bay: ['R4', 'R5'], face: 'front spar' });
    const behind = { looked_at: false, blocked: 'behind tank' };
    const once = { structure: 'Hull', hand: 'P', bay: ['F6', 'F7'], strakes: ['K', 'B1'] };
    const area: AreaPart[] = [...STAGE_1.area, ...STAGE_3.area];
    const cells = cellsOf(area, MARRAM, [bay, face, saw(once, behind)]);
    const done = cells.filter((cell) => cell.looked_at);
    expect(done).toHaveLength(9);
    expect(done.every((cell) => cell.hand === 'P')).toBe(true);
    expect(cells.find((cell) => cell.blocked)?.row).toBe('K–B1');
  });

  it('names the bays of a look that says no face, and counts it for none', () => {
    const cell = { structure: 'Port wing', hand: 'P', bay: ['R4', 'R5'] };
    const others = [saw({ ...cell, face: 'upper skin' }), saw({ ...cell, bay: ['R9', 'R10'] })];
    const coverage = [saw(cell), saw(cell), ...others];
    const { without_face, cells_looked_at } = stageSheet(STAGE_1, held({ coverage }), TODAY);
    expect(without_face).toEqual(['Port wing R4–R5']);
    expect(cells_looked_at).toBe(1);
  });

  it('hold a place on either hand and on the keel, and none outside or without a place', () => {
    const isIn = (place: DefectRow['place']) => inArea(STAGE_3.area, MARRAM, place);
    expect(isIn(hull('F6', ['K', 'B1']))).toBe(true);
    expect(isIn(hull('F14', ['K', 'K'], 'C'))).toBe(true);
    expect(isIn(hull('F14', ['B3', 'C'], 'S'))).toBe(true);
    expect(isIn(hull('F14', ['C', 'S1'], 'S'))).toBe(false);
    expect(isIn(hull('F15', ['K', 'B1']))).toBe(false);
    expect(isIn(hull('F3', ['K', 'B1']))).toBe(false);
    expect(isIn(null)).toBe(false);
    expect(isIn({ structure: 'Hull', strakes: 7 } as unknown as DefectRow['place'])).toBe(false);
  });
});

describe('the sheet of a stage', () => {
  it('numbers in tens what names it, by zone, and leaves out what is done', () => {
    const rows = [
      row('A/0009', { stage: 'Stage 3', zone: '221' }),
      row('B/0019', { stage: 'Stage 3', zone: '122' }),
      row('A/0002', { stage: 'Stage 3', state: 'In work' }),
      row('A/0001', { stage: 'Stage 3', state: 'Cleared' }),
      row('B/0015', { stage: 'Stage 3', state: 'Same as' }),
      row('B/0001', { stage: 'Stage 1' }),
    ];
    expect(numbersOf(STAGE_3, rows)).toEqual([
      [10, 'A/0002'],
      [20, 'B/0019'],
      [30, 'A/0009'],
    ]);
  });

  it('counts a defect of the area that names no stage', () => {
    const rows = [
      row('A/0030', { place: hull('F6', ['K', 'B1']) }),
      row('A/0031', { place: hull('F16', ['K', 'B1']) }),
    ];
    expect(numbersOf(STAGE_3, rows)).toEqual([[10, 'A/0030']]);
    const [line] = stageSheet(STAGE_3, held({ rows }), TODAY).lines;
    expect(line).toMatchObject({ is_unnamed: true, who: 'Lead' });
  });

  it('follows a deferral: it blocks the stage it was put off to, and is carried past others', () => {
    const place = hull('F14', ['K', 'K'], 'C');
    const deferral = { to_stage: 'Stage 4', look_again_by: '2026-02-28' };
    const rows = [row('A/0012', { state: 'Deferred', stage: 'Stage 3', place, deferral })];
    expect(numbersOf(STAGE_4, rows)).toEqual([[10, 'A/0012']]);
    expect(numbersOf(STAGE_3, rows)).toEqual([]);
    const carried = (stage: StageRecord) =>
      stageSheet(stage, held({ rows }), TODAY).carried.map((one) => one.number);
    expect(carried(STAGE_3)).toEqual(['A/0012']);
    expect(carried(STAGE_4)).toEqual([]);
    const back = [row('A/0018', { state: 'Deferred', stage: 'Stage 2', place })];
    expect(stageSheet(STAGE_4, held({ rows: back }), TODAY).carried).toEqual([]);
  });

  it('has one line for all cells that nobody looked at, by zone', () => {
    const sheet = stageSheet(STAGE_1, held({}), TODAY);
    expect(sheet).toMatchObject({ days: 12, cells: 16, cells_looked_at: 0 });
    expect(sheet.lines).toHaveLength(1);
    expect(sheet.lines[0]).toMatchObject({ kind: 'cells', number: 10, missing: 16 });
  });

  it('has a line for a rivet line with holes not reached, or that can’t be read', () => {
    const rows = [row('B/0001', { stage: 'Stage 1' })];
    const design = {
      ...{ head: '470', diameter: '5/32', alloy: '2117' },
      sheets: [{ thickness: { value: '0.048', unit: 'in' } }],
    };
    const line = (as_now: string) => ({
      ...{ record: 'l', defect: 'B/0001', name: 'RL-01', design: design as unknown as Json },
      ...{ as_found: as_now, as_now },
    });
    const rivets = (as_now: string, stage = STAGE_1) =>
      stageSheet(stage, held({ rows, rivets: rivetsInTheWay([line(as_now)]) }), TODAY).lines.filter(
        (one) => one.kind === 'rivets',
      );
    expect(rivets('SSNSN')).toMatchObject([{ not_reached: ['3', '5'], who: 'Inspector' }]);
    expect(rivets('SSSSS')).toEqual([]);
    expect(rivets('SSNSN', STAGE_2)).toEqual([]);
    expect(rivets('no states')).toMatchObject([{ not_reached: ['all'] }]);
  });

  it('says what clears a defect and who is next', () => {
    const step = (more: Partial<DefectRow>) => nextStep(row('A/0001', more));
    expect(step({})).toEqual({ clears: 'assessment', who: 'Lead' });
    const patch = { state: 'Assessed', disposition: 'Repair by patch' };
    expect(step(patch)).toEqual({ clears: 'a patch, inspected', who: 'Fitter' });
    expect(step({ ...patch, independent: true }).clears).toBe(
      'a patch, inspected, then independent',
    );
    expect(step({ state: 'Assessed', disposition: 'Refer to design authority' }).who).toBe(
      'Design authority',
    );
    expect(step({ state: 'Offered' })).toEqual({ clears: 'inspection', who: 'Inspector' });
  });

  it('comes nearest first; one without a date last', () => {
    const some = [
      { record: 'a', title: 'Late', date: '2026-01-01' },
      { record: 'b', title: 'Some day' },
      { record: 'c', title: 'Soon', date: '2025-11-04' },
    ];
    expect(stagesOf(some).map((one) => one.title)).toEqual(['Soon', 'Late', 'Some day']);
  });
});

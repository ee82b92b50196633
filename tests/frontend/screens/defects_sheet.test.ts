import { describe, expect, it } from 'vitest';
import type { Line } from '../../../frontend/src/domain/rivet_line';
import { countedNow } from '../../../frontend/src/screens/defects/counted_now';
import { reachOf } from '../../../frontend/src/screens/defects/crack_reach_values';
import {
  observationsOf,
  plotOf,
  readCrack,
} from '../../../frontend/src/screens/defects/crack_values';
import { neighboursOf } from '../../../frontend/src/screens/defects/decided_pairs';
import { linesOf } from '../../../frontend/src/screens/defects/figures';
import { belowWords } from '../../../frontend/src/screens/defects/list';
import { correctionOf, deferredBy } from '../../../frontend/src/screens/defects/move_details';
import {
  alongWords,
  lineOf,
  runText,
  stateText,
} from '../../../frontend/src/screens/defects/rivet_words';
import { afterStep, sevenAt } from '../../../frontend/src/screens/defects/seven_holes_values';
import type { DefectRow, Definition, Standard, Written } from '../../../frontend/src/services/shop';
import definition from '../../../sample_data/skinpin_demo/data/definition_2603.json';
import standard from '../../../sample_data/skinpin_demo/data/standard_qs7.json';

const QS7 = standard as unknown as Standard;
const inches = (value: string, more: object = {}) => ({ value, unit: 'in', ...more });

describe('figures on the sheet of a record', () => {
  it('name the gauge of a sheet, the instrument of a depth, the other unit of the rest', () => {
    const { lines, seen } = linesOf({
      ...{ kind: 'pitting', material: 'AL', cleaned: 'yes', perforated: false },
      thickness: inches('0.064'),
      length: inches('0.81', { uncertainty: inches('0.03') }),
      depth: inches('0.011', { instrument: 'DG-1' }),
    });
    expect(lines.map((one) => [one.name, one.value, one.second])).toEqual([
      ['thickness', '0.064 in', '16 SWG'],
      ['length', '0.81 ± 0.03 in', '20.57 mm'],
      ['depth', '0.011 in', 'DG-1'],
    ]);
    expect(seen).toBe('cleaned: yes · not perforated');
    const crack = linesOf({ kind: 'crack', material: 'AL', reaches_edge: false });
    expect(crack.seen).toContain('reaches an edge: no');
  });

  it('say of a copied figure that it was not measured, and whose it is', () => {
    const depth = inches('0.012', { copied_from: 'D/0001' });
    const { lines } = linesOf({ kind: 'pitting', material: 'AL', depth });
    expect(lines).toEqual([
      { name: 'depth', value: 'not measured', second: '0.012 in copied from D/0001' },
    ]);
  });

  it('show a figure whose scale was struck as it was, struck through and withdrawn', () => {
    const length = inches('0.81', { scale_withdrawn: true, uncertainty: inches('0.03') });
    const { lines } = linesOf({ kind: 'pitting', material: 'AL', length });
    expect(lines).toEqual([
      { name: 'length', value: '0.81 ± 0.03 in', second: 'scale withdrawn', struck: true },
    ]);
  });

  it('say which of two values counts now: the one that grades worse', () => {
    const values = [inches('0.009'), inches('0.012')];
    const plain = { kind: 'pitting', material: 'AL', thickness: inches('0.128'), cleaned: 'yes' };
    expect(countedNow('depth', values, plain, QS7)).toEqual([1]);
    expect(countedNow('depth', [inches('0.008'), inches('0.009')], plain, QS7)).toEqual([]);
    expect(countedNow('stage', ['Stage 10', 'Stage 2'], plain, QS7)).toEqual([1]);
    expect(countedNow('note', ['one', 'two'], plain, QS7)).toEqual([]);
  });

  it('name a record in the words that a row of the list has room for', () => {
    const place = { offset: inches('0'), strakes: ['K', 'K'], member: 'F7' };
    const row = { hand: 'S', member: 'F7', place, kind_words: 'Crevice corrosion' };
    expect(belowWords(row as unknown as DefectRow)).toBe('Stbd · F7 · K · crevice');
    // As the place reads today, whatever member it was entered by; of a bay no middle is told.
    const now = { ...row, place_words: 'Hull · Stbd · F7 + 2.0 aft to F8 · K' };
    expect(belowWords(now as unknown as DefectRow)).toBe('Stbd · F7 + 2.0 to F8 · K · crevice');
    const bay = { ...row, place_words: 'Hull · Stbd · F7 · K · bay only' };
    expect(belowWords(bay as unknown as DefectRow)).toBe('Stbd · F7 · K · crevice');
    const bench = { ...row, member: null, place: { off: 'Bench 2', part: 'Strut, port' } };
    expect(belowWords(bench as unknown as DefectRow)).toBe('Bench 2 · Strut, port · crevice');
  });

  it('name neighbours within 6 in along, the nearest first', () => {
    const row = (number: string, station: string, structure = 'Hull') =>
      ({ number, record: number, station, structure, state: 'Raised' }) as unknown as DefectRow;
    const rows = [
      row('1', '72'),
      row('2', '78'),
      row('3', '71'),
      row('4', '78.1'),
      row('5', '72', 'Wing'),
    ];
    expect(neighboursOf(rows[0] as DefectRow, rows).map((one) => one.number)).toEqual(['3', '2']);
  });
});

describe('a crack', () => {
  const written = (date: string, value: string, at = 0) =>
    ({
      entry: `${date}${at}`,
      date,
      value: inches(value, { uncertainty: inches('0.03') }),
    }) as unknown as Written;

  it('is read of one day by its last length, and shows growth beyond ±', () => {
    const seen = observationsOf([
      ...[written('2025-03-08', '6.2'), written('2025-03-08', '0.62', 1)],
      ...[written('2025-06-21', '0.66'), written('2025-09-06', '0.79')],
      { ...written('2025-09-07', '0'), value: 'not measured' },
      { ...written('2025-09-08', '0'), value: { ...inches('9'), copied_from: 'D/0001' } },
      ...[written('2025-10-11', '8.1'), { ...written('2025-10-11', '0', 1), value: null }],
    ]);
    expect(seen.map((one) => one.length.value)).toEqual(['0.62', '0.66', '0.79']);
    const { read } = readCrack(seen, inches('1.60'));
    expect(read?.points.map((one) => one.growth_shown)).toEqual([false, false, true]);
    expect(read?.left?.words).toBe('To next hole: 1.60 − 0.79 = 0.81 ± 0.03 in');
  });

  it('an observation goes with the scale of its photograph, and comes back with it', () => {
    const from = { method: 'photograph', measurement: 'm1' };
    const of = (more: object) => ({ ...inches('0.6'), ...from, ...more }) as Written['value'];
    const on = (value: Written['value']) => ({ ...written('2025-03-08', '0.6'), value });
    const struck = [on(of({})), on(of({ scale_withdrawn: true }))];
    expect(observationsOf(struck)).toEqual([]);
    const [back, ...more] = observationsOf([...struck, on(of({}))]);
    expect([back?.length.value, more]).toEqual(['0.6', []]);
  });

  it('is plotted days along and lengths up, with its ± and its limit', () => {
    const seen = observationsOf([written('2025-03-08', '0.6'), written('2025-03-18', '0.8')]);
    const plot = plotOf(seen, inches('1.6'), { left: 0, right: 100, top: 0, foot: 180 }, 'in');
    expect(plot.points.map(({ x }) => x)).toEqual([0, 100]);
    const [first, last] = plot.points;
    expect(first?.y).toBeCloseTo(120);
    expect(last?.y).toBeCloseTo(100);
    expect(last?.high).toBeCloseTo(97);
    expect(plot.limit).toBeCloseTo(20);
    expect(plot.marks.at(-1)?.text).toBe('1.8');
  });

  it('is plotted in the unit it is told, whatever unit each length was typed in', () => {
    const length = {
      value: '45.5',
      unit: 'mm',
      uncertainty: { value: '0.4', unit: 'mm' },
    } as const;
    const seen = [
      { date: '2025-03-08', length },
      { date: '2025-03-18', length: { value: '1.7', unit: 'in' } as const },
    ];
    const plot = plotOf(seen, null, { left: 0, right: 100, top: 0, foot: 100 }, 'mm');
    const marks = plot.marks.map(({ text }) => text);
    expect(marks).toEqual(['0', '10', '20', '30', '40', '50']);
    expect(plot.points[0]?.y).toBeCloseTo(9);
    expect(plot.points[1]?.y).toBeCloseTo(100 - 2 * 43.18);
    const drawn = plotOf(seen, null, { left: 0, right: 100, top: 0, foot: 100 }, 'in');
    expect(drawn.marks.at(-1)?.text).toBe('2');
  });

  it('is drawn from its start as a share of the way to the next hole or edge', () => {
    const seen = observationsOf([written('2025-03-08', '0.6'), written('2025-03-18', '0.8')]);
    const box = { left: 100, right: 260 };
    const drawn = reachOf(seen, inches('1.6'), box);
    expect(drawn?.tip).toBeCloseTo(180);
    expect(drawn?.low).toBeCloseTo(177);
    expect(drawn?.high).toBeCloseTo(183);
    expect(drawn?.earlier.map(Math.round)).toEqual([160]);
    // Twice past the next hole it is drawn a tenth past it; with none it takes its own share.
    expect(reachOf(seen, inches('0.4'), box)?.tip).toBeCloseTo(276);
    expect(reachOf(seen, null, box)?.tip).toBeCloseTo(196);
    expect(reachOf([], inches('1.6'), box)).toBeNull();
  });

  it('that can’t be read says why and is not drawn', () => {
    const seen = observationsOf([written('2025-03-08', '-1')]);
    expect(readCrack(seen, null).problem).toContain("can't be -1 long");
  });
});

describe('seven holes enlarged', () => {
  it('stand about the worst run, and at the ends are still seven', () => {
    expect(sevenAt(20, 48)).toEqual({ first: 17, last: 23 });
    expect(sevenAt(1, 48)).toEqual({ first: 1, last: 7 });
    expect(sevenAt(48, 48)).toEqual({ first: 42, last: 48 });
    expect(sevenAt(2, 4)).toEqual({ first: 1, last: 4 });
  });

  it('go on by seven until the end of the line, and back', () => {
    let seven = sevenAt(1, 16);
    const seen = [seven.first];
    for (let at = 0; at < 4; at += 1) {
      seven = afterStep(seven, 1, 16);
      seen.push(seven.first);
    }
    expect(seen).toEqual([1, 8, 10, 10, 10]);
    expect(afterStep(seven, -1, 16)).toEqual({ first: 3, last: 9 });
  });
});

describe('a rivet line', () => {
  const recorded = lineOf({
    ...{ record: 'r', name: 'RL-01', first_station: inches('92.5625') },
    design: { diameter: '5/32', pitch: inches('1.125') },
    as_found: 'SLWWS'.padEnd(48, 'S'),
  });

  it('stands as now what it was as found until somebody writes it', () => {
    expect((recorded.line as Line).as_now).toBe(recorded.line.as_found);
  });

  it('says its holes in letters, sound left out, and where it runs', () => {
    expect(stateText(recorded.line.as_found)).toBe('2 L, 3–4 W');
    expect(stateText('SSS')).toBe('all sound');
    expect(runText({ length: 3, from: 2, to: 4 })).toBe('2–4: 3 in a row not effective');
    const wing = { structure: 'Port wing' };
    expect(alongWords(recorded, wing, definition as unknown as Definition)).toBe(
      'rivet 1 at WS 92.5625, 48 at 145.4375 in',
    );
  });
});

describe('a deferral', () => {
  const row = { stage: 'Stage 3' } as DefectRow;
  const given = {
    ...{ to_stage: 'Stage 4', look_again_by: '2026-03-01', limit: 'no limit' },
    deferral_authority: 'Lead',
  };

  it('names stage, day, limit and authority, and takes the record along to its stage', () => {
    expect(deferredBy(row, given, '2025-11-03')).toEqual({
      deferral: {
        ...{ to_stage: 'Stage 4', look_again_by: '2026-03-01' },
        ...{ limit: 'no limit', authority: 'Lead' },
      },
      stage: 'Stage 4',
    });
  });

  it.each([
    [{ to_stage: '' }, 'It is put off to nothing.'],
    [{ look_again_by: '' }, 'No day to look again.'],
    [{ look_again_by: '2025-11-02' }, '2025-11-02 has gone by.'],
    [{ limit: '' }, 'No limit was said.'],
    [{ deferral_authority: ' ' }, 'Nobody is named who agreed.'],
  ])('without %o is refused', (more, sentence) => {
    expect(() => deferredBy(row, { ...given, ...more }, '2025-11-03')).toThrow(sentence);
  });
});

describe('a figure corrected at the desk', () => {
  const depth = inches('0.012', { instrument: 'DG-1', method: 'gauge' });
  const values = { kind: 'pitting', thickness: inches('0.064'), depth };

  it('keeps unit and instrument, and has its reason', () => {
    const given = { figure: 'depth', corrected: '0,021', why: ' typed wrong ' };
    expect(correctionOf(values, given)).toEqual({
      set: { depth: { ...depth, value: '0.021' } },
      why: 'typed wrong',
    });
  });

  it('is refused without a figure, a reason or sense', () => {
    for (const given of [
      { corrected: '0.02', why: 'typed wrong' },
      { figure: 'depth', corrected: '0.02' },
      { figure: 'depth', corrected: 'deep', why: 'typed wrong' },
      { figure: 'width', corrected: '1', why: 'typed wrong' },
      { figure: 'depth', corrected: '0.090', why: 'typed wrong' },
    ])
      expect(() => correctionOf(values, given)).toThrow();
  });
});

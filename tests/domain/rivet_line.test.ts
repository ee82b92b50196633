import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { scaled, TENTH_NM } from '../../frontend/src/domain/quantities';
import { type Line, rivetLine } from '../../frontend/src/domain/rivet_line';
import { readLine } from '../../frontend/src/domain/rivet_line_holes';
import { loadOf, pounds, shareText } from '../../frontend/src/domain/rivet_line_shear';
import {
  headHolds,
  headTarget,
  nextLarger,
  oversizeAllowed,
  readCode,
  sizeForSheet,
  stockLength,
} from '../../frontend/src/domain/rivet_line_sizes';
import {
  insertHole,
  removeHole,
  reverseLine,
  type States,
} from '../../frontend/src/domain/rivet_line_states';
import vectors from '../vectors/rivet_line.json';

function lineOf(own: object): Line {
  const given = Object.entries({ ...vectors.base, ...own }).filter(([, value]) => value !== null);
  return Object.fromEntries(given) as unknown as Line;
}

const inches = (text: string) => scaled(text, TENTH_NM.in) as bigint;
const states = fc
  .array(fc.constantFrom(...'SSLCDNRV'), { minLength: 1, maxLength: 14 })
  .map((some) => some.join(''));

describe('rivet line', () => {
  it('the demo line comes out to the figure', () => {
    const line = rivetLine(vectors.demo.line as unknown as Line);
    expect(line).toEqual(vectors.demo.survey);
    expect(line.as_now.share).toEqual({ low: '72.7', high: '76.8' });
    expect(line.demand.map((row) => [row.diameter, row.length, row.count])).toEqual([
      ['5/32', '1/2', 10],
      ['3/16', '1/2', 3],
    ]);
  });

  it.each(vectors.cases)('$name', (row) => {
    expect(rivetLine(lineOf(row.line))).toEqual(row.survey);
  });

  it.each(vectors.refused)('$name is refused', (row) => {
    expect(() => rivetLine(lineOf(row.line))).toThrow(
      expect.objectContaining({ code: row.code, message: row.message }),
    );
  });

  it.each(vectors.pounds)('allowable shear: $source', (row) => {
    const line = readLine(lineOf({ basis: row.basis }));
    const sizes = Object.keys(row.loads);
    const loads = sizes.map((diameter) =>
      pounds(loadOf({ diameter, alloy: row.alloy }, [1n], line)),
    );
    expect(Object.fromEntries(sizes.map((size, at) => [size, loads[at]]))).toEqual(row.loads);
    for (const [at, printed] of row.printed.entries()) {
      const apart = Math.abs(Number(loads[at]) - printed);
      expect(apart * 100).toBeLessThanOrEqual(row.within_percent * printed);
    }
  });

  it.each(vectors.code)('a rivet code is read: $text', ({ text, source: _source, ...code }) => {
    expect(readCode(text)).toEqual(code);
  });

  it.each(vectors.code_refused)('what is no rivet code is refused: %s', (text) => {
    expect(() => readCode(text)).toThrow('no rivet code');
  });

  it.each(vectors.length)('a length is the next stocked: $source', (row) => {
    expect(stockLength(inches(row.grip), row.diameter, row.half_sizes)).toBe(row.length);
  });

  it.each(vectors.head_target)('a driven head of $diameter', (row) => {
    const [width, height] = headTarget(row.diameter);
    const near = (a: bigint, b: bigint) => Math.abs(Number(a - b)) <= Number(inches('0.0005'));
    expect(near(width, inches(row.width)) && near(height, inches(row.height))).toBe(true);
  });

  it.each(vectors.head_holds)('a driven head $width × $height is $result', (row) => {
    const [width, height] = [inches(row.width), inches(row.height)];
    expect(headHolds(width, height, row.diameter, row.alloy)).toBe(row.result);
  });

  it('steps of size and limits of oversize agree with their sources', () => {
    for (const row of vectors.next_larger) expect(nextLarger(row.diameter)).toBe(row.next);
    for (const row of vectors.oversize_allowed) expect(oversizeAllowed(row.count)).toBe(row.most);
    for (const row of vectors.size_for_sheet) {
      expect(sizeForSheet(inches(row.thickness))).toBe(row.diameter);
    }
  });

  it.each(vectors.checks)('a size is checked: $words', (row) => {
    const [decision] = rivetLine(lineOf(row.line)).decisions;
    expect(decision?.result).toBe(row.result);
    expect(decision?.checks.map((check) => check.words)).toContain(row.words);
  });

  it.each(vectors.share_text)('a share under a limit never reads as reaching it: $text', (row) => {
    expect(shareText(BigInt(row.part), BigInt(row.whole))).toBe(row.text);
  });

  it.each(vectors.turned)('a line is put right: $do', (row) => {
    const { at = 0, state = '' } = row;
    const line = row.line as States;
    const put = { reverse: reverseLine, insert: insertHole, remove: removeHole }[row.do] as (
      line: States,
      at: number,
      state: string,
    ) => States;
    expect(put(line, at, state)).toEqual(row.gives);
  });

  it('a line reversed has the same counts, runs and shares', () => {
    fc.assert(
      fc.property(states, (text) => {
        const own = { as_found: text, as_now: text, holes: { 1: { alloy: '2024' } } };
        const line = lineOf(own);
        const [there, back] = [line, reverseLine(line)].map((one) => rivetLine(one).as_now);
        expect(there?.counts).toEqual(back?.counts);
        expect(there?.share).toEqual(back?.share);
        expect(there?.run.length).toBe(back?.run.length);
        expect(there?.possible_run.length).toBe(back?.possible_run.length);
        expect(there?.worst_six.percent).toBe(back?.worst_six.percent);
        expect(reverseLine(reverseLine(line))).toEqual(line);
      }),
    );
  });

  it('a hole put in and taken out leaves the line as it was', () => {
    fc.assert(
      fc.property(states, fc.nat(14), (text, place) => {
        const line = lineOf({ as_found: text, as_now: text, holes: { 1: { alloy: '2024' } } });
        const at = (place % (text.length + 1)) + 1;
        expect(removeHole(insertHole(line, at, 'N'), at)).toEqual(line);
      }),
    );
  });
});

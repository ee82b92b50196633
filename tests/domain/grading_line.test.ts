import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Standard } from '../../frontend/src/domain/grading';
import { gradeWithLines, lineInputs, UNREAD } from '../../frontend/src/domain/grading_line';
import { openWords } from '../../frontend/src/domain/grading_words';
import { worstGrade } from '../../frontend/src/domain/grading_worst';
import { type Line, rivetLine } from '../../frontend/src/domain/rivet_line';
import type { Values } from '../../frontend/src/domain/values';
import qs7 from '../../sample_data/skinpin_demo/data/standard_qs7.json';
import vectors from '../vectors/grading_line.json';

const QS7 = qs7 as unknown as Standard;
const { base } = vectors;
interface Case {
  name: string;
  values: Record<string, unknown>;
  lines: Record<string, Record<string, Record<string, unknown>>>;
  inputs: Record<string, unknown[]>;
  grade: number;
  known: boolean;
  fired: string[][];
  missing: string[];
  could_be: number[];
  unjudged: string[];
  open: string;
}

function linesOf({ lines }: Case): Record<string, Values> {
  const filled = (one: Record<string, unknown>) =>
    one.design === 'base' ? { ...one, design: base } : one;
  const records = Object.entries(lines).map(([record, values]) => {
    const entries = Object.entries(values).map(([id, one]) => [id, filled(one)] as const);
    return [record, Object.fromEntries(entries)] as const;
  });
  return Object.fromEntries(records);
}

const states = fc
  .array(fc.constantFrom(...'SSSSLWCTMDNRV'), { minLength: 1, maxLength: 14 })
  .map((some) => some.join(''));
const KEYS = [...Object.keys(base), '1', '2', 'fitted', 'value', 'unit'];
const { anything } = fc.letrec((tie) => ({
  anything: fc.oneof(
    fc.constantFrom(null, true, 0, -3, Number.MAX_SAFE_INTEGER, '', 'S', '1/8', '470', 'hole'),
    fc.array(tie('anything'), { maxLength: 2 }),
    fc.dictionary(fc.constantFrom(...KEYS, '__proto__', 'constructor'), tie('anything')),
  ),
}));

describe('grading by rivet lines', () => {
  it.each(vectors.cases as unknown as Case[])('$name', (row) => {
    const lines = linesOf(row);
    expect(lineInputs(lines)).toEqual(row.inputs);
    const graded = gradeWithLines({ e1: row.values }, lines, QS7);
    expect(graded).toMatchObject({
      grade: row.grade,
      known: row.known,
      missing: row.missing,
      could_be: row.could_be,
      unjudged: row.unjudged,
    });
    expect(graded.fired.map(({ rule, reason }) => [rule, reason])).toEqual(row.fired);
    if (row.open) expect(openWords(graded)).toBe(row.open);
  });

  it('share and run are those of the survey as found', () => {
    fc.assert(
      fc.property(states, (found) => {
        const line = { ...base, as_found: found, as_now: found } as unknown as Line;
        const survey = rivetLine(line).as_found;
        const given = lineInputs({ R: { e: { design: base, as_found: found } } });
        expect(given.shear_share_percent).toEqual([survey.share.low]);
        const runs = new Set([survey.run.length, survey.possible_run.length]);
        expect(given.run).toEqual([...runs]);
      }),
    );
  });

  it('whatever a line holds, it is graded and never below what was typed', () => {
    const own = { e1: { kind: 'loose rivets', material: 'AL', run: 2 } };
    const least = worstGrade(own, QS7).grade as number;
    fc.assert(
      fc.property(fc.array(anything, { maxLength: 2 }), (some) => {
        const fields = Object.fromEntries(
          some.map((one, at) => {
            const as_found = typeof one === 'string' ? one : 'LS';
            return [`l${at}`, { design: one, as_found, holes: one }];
          }),
        );
        const graded = gradeWithLines(own, { R: fields }, QS7);
        expect(graded.grade).toBeGreaterThanOrEqual(least);
        const unread = (lineInputs({ R: fields }).shear_share_percent ?? []).includes(UNREAD);
        expect(graded.known).toBe(!(unread && (graded.grade as number) < 4));
      }),
    );
  });

  it('past sixty-four combinations the share is open', () => {
    const entries = Array.from({ length: 9 }, (_, at) => {
      return [String(at), { as_found: 'S'.repeat(at + 1), design: { ...base, note: at } }] as const;
    });
    const given = lineInputs({ R: Object.fromEntries(entries) });
    expect(given.shear_share_percent).toEqual(['100.0', UNREAD]);
  });
});

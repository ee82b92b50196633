import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CAUTIONS, cautionsFor } from '../../frontend/src/domain/cautions';
import { Refused } from '../../frontend/src/domain/errors';
import {
  compileStandard,
  type Fired,
  type Grading,
  grade,
  refuseFigures,
  type Standard,
  type Values,
} from '../../frontend/src/domain/grading';
import { decidingWords, gradeWords, openWords } from '../../frontend/src/domain/grading_words';
import { worstGrade } from '../../frontend/src/domain/grading_worst';
import {
  ASKED,
  commonestKinds,
  dispositionsFor,
  fieldsFor,
  KINDS,
  MATERIALS,
  WORDING,
} from '../../frontend/src/domain/kinds';
import qs7 from '../../sample_data/skinpin_demo/data/standard_qs7.json';
import vectors from '../vectors/grading.json';

const QS7 = qs7 as unknown as Standard;
interface Case {
  name: string;
  values: Values;
  words: string;
  deciding?: string[][];
  missing?: string[];
  could_be?: number[];
  open?: string;
  hand_off?: boolean;
  must_choose?: boolean;
  standing: Record<string, Values>;
}
const cases = vectors.cases as unknown as Case[];
const worst = vectors.worst as unknown as Case[];
const said = (fired: Fired[]) => fired.map(({ rule, reason }) => [rule, reason]);
const decides = (fired: Fired) => fired.deciding;

describe('grading', () => {
  it.each(vectors.demo)('demo record $number has its grade and reasons', (row) => {
    const graded = grade(row.values as Values, QS7);
    expect(graded.grade).toBe(row.grade);
    expect(graded.known).toBe(row.known);
    expect(gradeWords(graded)).toBe(row.words);
    expect(said(graded.fired.filter(decides))).toEqual(row.deciding);
    expect(said(graded.fired.filter((fired) => !decides(fired)))).toEqual(row.others);
  });

  it.each(cases)('$name', (row) => {
    const graded = grade(row.values, QS7);
    expect(gradeWords(graded)).toBe(row.words);
    expect(said(graded.fired.filter(decides))).toEqual(row.deciding);
    expect(graded.missing).toEqual(row.missing ?? []);
    expect(graded.could_be).toEqual(row.could_be ?? []);
    if (row.open !== undefined) expect(openWords(graded)).toBe(row.open);
    if (row.hand_off !== undefined) expect(graded.hand_off).toBe(row.hand_off);
  });

  it.each(vectors.made.cases)('a standard that asks: $name', (row) => {
    const graded = grade(row.values as Values, vectors.made.standard as unknown as Standard);
    expect([gradeWords(graded), openWords(graded)]).toEqual([row.words, row.open]);
  });

  it.each(worst)('where two values stand: $name', (row) => {
    const graded = worstGrade(row.standing, QS7);
    expect(gradeWords(graded)).toBe(row.words);
    expect(graded.must_choose).toBe(row.must_choose ?? false);
    if (row.deciding) expect(said(graded.fired.filter(decides))).toEqual(row.deciding);
    if (row.could_be) expect(graded.could_be).toEqual(row.could_be);
  });

  it.each(vectors.fields)('$kind of $material asks for its fields in order', (row) => {
    const asked = fieldsFor(row.kind, row.material);
    expect(asked.map((field) => field.field)).toEqual(row.fields);
    expect(asked.every((field) => field.label !== '' && field.type !== undefined)).toBe(true);
  });

  it.each(vectors.refused)('figures that cannot be true together: $values $code', (row) => {
    let code: string | null = null;
    try {
      refuseFigures(row.values as Values);
    } catch (error) {
      code = (error as Refused).code;
    }
    expect(code).toBe(row.code);
  });

  it('a broken standard is refused with a sentence', () => {
    const [first] = QS7.rows;
    for (const [when, code] of [
      [{ sparkles: true }, 'unknown_condition'],
      [{ figure: 'depth' }, 'no_limit'],
      [{ figure: 'girth', over: { value: '1', unit: 'in' } }, 'unknown_figure'],
      [null, 'not_a_standard'],
    ] as const) {
      const broken = { ...QS7, rows: [{ ...first, when }] } as unknown as Standard;
      try {
        compileStandard(broken);
        expect.unreachable();
      } catch (error) {
        expect(error).toBeInstanceOf(Refused);
        expect((error as Refused).code).toBe(code);
      }
    }
  });

  it('kinds, cautions and dispositions name each other rightly', () => {
    for (const kind of Object.keys(KINDS)) {
      for (const caution of cautionsFor(kind)) expect(CAUTIONS).toHaveProperty(caution.caution);
      expect(dispositionsFor(kind).length).toBeGreaterThan(0);
    }
    expect(cautionsFor('leak', true)[0]?.caution).toBe('confined_space');
    expect(cautionsFor('constructor')).toEqual([]);
    expect(commonestKinds()).toHaveLength(8);
    expect(WORDING.short).toBe('Sorting aid, not approved data');
  });

  it('deciding reasons stand on one line', () => {
    const row = vectors.demo.find((each) => each.number === 'A/0002');
    expect(decidingWords(grade(row?.values as Values, QS7))).toBe(
      'AL3: depth 0.011 in > 0.010 in; AL4: loss 17.2 % > 10 % of 0.064 in',
    );
  });
});

const length = fc.record({
  value: fc.constantFrom('0.001', '0.010', '0.0101', '0.02', '0.040', '0.254', '1.016', '2'),
  unit: fc.constantFrom('in', 'mm'),
});
const yesNo = Object.keys(ASKED).filter((name) => ASKED[name]?.type === 'yes_no');
const record = fc.record(
  {
    kind: fc.constantFrom(...Object.keys(KINDS)),
    material: fc.constantFrom(...Object.keys(MATERIALS), null),
    ...Object.fromEntries(
      ['depth', 'thickness', 'length', 'width', 'hole_major', 'hole_minor'].map((name) => [
        name,
        fc.oneof(length, fc.constant('not measured')),
      ]),
    ),
    ...Object.fromEntries(yesNo.map((name) => [name, fc.constantFrom(true, false, null)])),
    run: fc.integer({ min: 1, max: 4 }),
    leak: fc.constantFrom('weep', 'running'),
    cleaned: fc.constantFrom('yes', 'partly', 'not yet'),
    panel_percent: fc.constantFrom('25', '25.1'),
    shear_share_percent: fc.constantFrom('49', '50', '74', '75'),
  },
  { requiredKeys: [] },
);

describe('grading of any record', () => {
  it('does not hang on the order of entry', () => {
    fc.assert(
      fc.property(record, fc.infiniteStream(fc.nat()), (values, order) => {
        const keys = Object.entries(values).map((pair) => ({ pair, at: order.next().value }));
        const shuffled = keys.sort((a, b) => a.at - b.at).map((each) => each.pair);
        expect(grade(Object.fromEntries(shuffled), QS7)).toEqual(grade(values, QS7));
      }),
    );
  });

  it('reads a copied figure as none beside a measured one, and as unreadable alone', () => {
    const copied = fc.dictionary(
      fc.constantFrom('depth', 'thickness', 'length', 'width', 'hole_major', 'hole_minor'),
      fc.constantFrom(
        { value: '0.04', unit: 'in', copied_from: 'D/0001' },
        { value: '0.001', unit: 'in', method: 'as D/0001, not measured here' },
      ),
    );
    const unlisted = (graded: Grading) => ({ ...graded, unreadable: [] });
    fc.assert(
      fc.property(record, copied, fc.boolean(), (values, hints, first) => {
        const odd = Object.fromEntries(Object.keys(hints).map((field) => [field, '?']));
        const lone = Object.entries(odd).filter(
          ([field]) => typeof (values as Values)[field] !== 'object',
        );
        const beside = Object.fromEntries(lone);
        const standing = { e1: first ? hints : values, e2: first ? values : hints };
        const unread = { e1: first ? beside : values, e2: first ? values : beside };
        expect(unlisted(worstGrade(standing, QS7))).toEqual(unlisted(worstGrade(unread, QS7)));
        const [mine, its] = [
          grade({ ...values, ...hints }, QS7),
          grade({ ...values, ...odd }, QS7),
        ];
        expect(unlisted(mine)).toEqual(unlisted(its));
      }),
    );
  });

  it('is never firm and lower for a copied figure than for the figure measured', () => {
    fc.assert(
      fc.property(record, fc.nat(), (values, at) => {
        const figures = Object.entries(values).filter(([, value]) => typeof value === 'object');
        const [field, value] = figures[at % figures.length] ?? [];
        if (!field || value === null) return;
        const hint = { ...(value as unknown as object), copied_from: 'D/0001' };
        const copied = grade({ ...values, [field]: hint }, QS7);
        const whole = grade(values, QS7).grade ?? 0;
        expect(Math.max(copied.grade ?? 0, ...copied.could_be)).toBeGreaterThanOrEqual(whole);
        if (copied.known) expect(copied.grade).toBeGreaterThanOrEqual(whole);
      }),
      { numRuns: 400 },
    );
  });

  it('is known just when no higher grade is open', () => {
    fc.assert(
      fc.property(record, (values) => {
        const graded = grade(values, QS7);
        expect(graded.known).toBe(graded.grade !== null && graded.could_be.length === 0);
        expect(graded.could_be.every((above) => above > (graded.grade ?? -1))).toBe(true);
        const highest = Math.max(-1, ...graded.fired.map((fired) => fired.grade));
        expect(graded.grade ?? -1).toBe(highest);
      }),
    );
  });

  it('is one in both units', () => {
    fc.assert(
      fc.property(record, (values) => {
        const other = Object.fromEntries(
          Object.entries(values).map(([name, value]) => [name, inMillimetres(value)]),
        );
        const [first, second] = [grade(values, QS7), grade(other, QS7)];
        expect([second.grade, second.known, second.could_be]).toEqual([
          first.grade,
          first.known,
          first.could_be,
        ]);
      }),
    );
  });
});

function inMillimetres(value: unknown): unknown {
  const { value: text, unit } = (value ?? {}) as { value?: string; unit?: string };
  if (text === undefined || unit !== 'in') return value;
  const tenths = Math.round(Number(text) * 254_000_000);
  const part = String(tenths % 10_000_000).padStart(7, '0');
  return { value: `${Math.floor(tenths / 10_000_000)}.${part}`, unit: 'mm' };
}

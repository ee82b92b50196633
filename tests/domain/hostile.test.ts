// Whatever an entry holds, it is judged, projected and told; nothing is thrown.

import { standing } from '@sync/standing';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { countedFields, FIELDS } from '../../frontend/src/domain/fields';
import type { Standard } from '../../frontend/src/domain/grading';
import { history } from '../../frontend/src/domain/history';
import { judgeAll } from '../../frontend/src/domain/ledger';
import { MOVES, STATES } from '../../frontend/src/domain/permissions';
import type { Definition } from '../../frontend/src/domain/place';
import { defectRow } from '../../frontend/src/domain/projection';
import { relatedOf } from '../../frontend/src/domain/projection_related';
import { knownOf, type Pair } from '../../frontend/src/domain/verdicts';
import definition from '../../sample_data/skinpin_demo/data/definition_2603.json';
import standard from '../../sample_data/skinpin_demo/data/standard_qs7.json';
import { bookOf, type RowText } from './book';

const WORDS = [...STATES, 'P', 'Hull', 'F6', 'in', '0.011', 'nil', 'e1', 'Y', '', '__proto__'];
const KEYS = [
  ...['move', 'to', 'undoes', 'value', 'unit', 'member', 'role', 'upto', 'count', 'sha256'],
  ...['structure', 'hand', 'offset', 'strakes', 'look_again_by', 'grade', 'constructor'],
];
const scalar = fc.constantFrom<unknown>(null, true, false, 0, 1, -7, 2 ** 53 - 1, ...WORDS);
const value = fc.letrec((tie) => ({
  any: fc.oneof({ depthSize: 'small' }, scalar, tie('list'), tie('fields')),
  list: fc.array(tie('any'), { maxLength: 3 }),
  fields: fc.dictionary(fc.constantFrom(...KEYS), tie('any'), { maxKeys: 4 }),
})).any;
const move = fc.record(
  {
    move: fc.oneof(fc.constantFrom(...MOVES.map((row) => row.move)), value),
    to: scalar,
    undoes: fc.oneof(fc.constantFrom('@e0', '@e1', '@e2'), value),
  },
  { requiredKeys: ['move', 'to'] },
);
const names = fc.array(fc.constantFrom('@e0', '@e1', '@e2', '@e3', '@e4', '@e5'), {
  minLength: 1,
  maxLength: 3,
});
const kinds = fc.constantFrom('defect', 'defect', 'stamp', 'person', 'photograph', 'bracket');
const row = kinds.chain((kind) => {
  const fields = fc.constantFrom(...Object.keys(FIELDS[kind] ?? {}), 'colour', 'constructor');
  return fc.record({
    kind: fc.constant(kind),
    by: fc.constantFrom('lead', 'inspector-1', 'nobody'),
    record: fc.constantFrom('X', 'Y'),
    set: fc.dictionary(fields, value, { maxKeys: 4 }),
    state: fc.option(move),
    seen: fc.dictionary(fields, names, { maxKeys: 3 }),
    relies: fc.option(names),
    role: fc.constantFrom(null, '@role-lead', '@role-inspector-1'),
    isTogether: fc.boolean(),
  });
});
const rows = fc.array(row, { minLength: 1, maxLength: 7 });

it('judges, projects and tells any entry', () => {
  const first = { by: 'lead', act: 'set-up', role: null };
  const role = { role: { role: 'lead', from: '2025-03-01' } };
  const setUp: RowText[] = [
    { ...first, name: 'book', record: 'book', kind: 'book', set: { unit: 'in' } },
    { ...first, name: 'role-lead', record: 'lead', kind: 'person', set: role },
  ];
  fc.assert(
    fc.property(rows, (made) => {
      const written = made.map(({ state, isTogether, relies, ...one }, at): RowText => {
        const set = one.kind === 'defect' && state ? { ...one.set, state } : one.set;
        const act = isTogether ? 'a' : `e${at}`;
        return { ...one, set, act, name: `e${at}`, relies: relies ?? [] };
      });
      const { entries } = bookOf([...setUp, ...written]);
      const { verdicts, withdrawn } = judgeAll(entries, knownOf());
      expect(verdicts.size).toBe(entries.length);
      const pairs = entries.map((one): Pair => [one, verdicts.get(one.id) as Pair[1]]);
      const mine = pairs.filter(([one]) => one.record === 'X');
      const now = standing(
        mine.map(([one]) => one),
        (one) => countedFields(one, verdicts.get(one.id)?.result === 'counts', false),
      );
      const stamps = pairs.filter(([one]) => one.kind === 'stamp');
      const photographs = { P: now.values };
      const related = relatedOf({ entries: mine, stamps, withdrawn, photographs });
      const places = definition as unknown as Definition;
      const limits = standard as unknown as Standard;
      expect(defectRow('X', now, related, null, null).record).toBe('X');
      expect(defectRow('X', now, related, places, limits).record).toBe('X');
      expect(history(pairs, {}, undefined, withdrawn)).toHaveLength(entries.length);
    }),
    { numRuns: 300 },
  );
});

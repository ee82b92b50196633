// Who may set which field and make which move, walked against a table written by hand.

import { describe, expect, it } from 'vitest';
import { FIELDS, isCaptureField, ROLES, stampedFields } from '../../frontend/src/domain/fields';
import { fieldsToSee } from '../../frontend/src/domain/moves';
import { MOVES, mayMove, maySet, movesOpen, STATES } from '../../frontend/src/domain/permissions';
import table from '../vectors/permissions.json';

const MOVED = table.moves as Record<string, Record<string, string[]>>;
const SET = table.fields as Record<string, Record<string, string | string[]>>;

describe('fields', () => {
  it('are those of the table', () => {
    expect(Object.keys(FIELDS).sort()).toEqual(Object.keys(SET).sort());
  });

  it.each(Object.keys(FIELDS))('of a %s are set by whom the table says', (kind) => {
    const fields = SET[kind] ?? {};
    expect(Object.keys(FIELDS[kind] ?? {}).sort()).toEqual(Object.keys(fields).sort());
    for (const [field, who] of Object.entries(fields)) {
      for (const role of ROLES)
        expect([field, role, maySet(role, kind, field)]).toEqual([
          field,
          role,
          who === 'any' || who.includes(role),
        ]);
      expect(isCaptureField(kind, field)).toBe(who === 'any');
    }
  });

  it('that stamps are made over are those of the table', () => {
    for (const [kind, fields] of Object.entries(table.stamped))
      expect([...stampedFields(kind)].sort()).toEqual([...fields].sort());
  });

  it('that this version does not know may be set by anybody', () => {
    expect(maySet('clerk', 'bracket', 'colour')).toBe(true);
    expect(isCaptureField('defect', 'toString')).toBe(true);
    expect(isCaptureField('constructor', 'name')).toBe(true);
  });
});

describe.each(ROLES)('%s', (role) => {
  it.each(['nothing', ...STATES])('moves from %s as the table says', (state) => {
    const open = movesOpen(role, state === 'nothing' ? [] : [state]);
    expect(open.sort()).toEqual([...(MOVED[state]?.[role] ?? [])].sort());
  });

  it('chooses between states only as lead', () => {
    for (const one of STATES)
      for (const two of STATES)
        if (one !== two) expect(movesOpen(role, [one, two])).toEqual(MOVED['two or more']?.[role]);
  });

  it('may make a move where some state lets it', () => {
    for (const { move } of MOVES.filter((row) => row.move !== 'undo'))
      expect([move, mayMove(role, move)]).toEqual([
        move,
        Object.values(MOVED).some((roles) => roles[role]?.includes(move)),
      ]);
  });
});

it('leaves the lead a move in every combination of states', () => {
  for (let some = 0; some < 2 ** STATES.length; some++) {
    const states = STATES.filter((_, at) => some & (1 << at));
    expect(movesOpen('lead', states)).not.toEqual([]);
  }
});

it('asks only for fields of a defect', () => {
  const known = Object.keys(FIELDS.defect ?? {});
  for (const { move } of MOVES) expect(known).toEqual(expect.arrayContaining(fieldsToSee(move)));
});

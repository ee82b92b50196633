import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { lackingWords, setOf, typedOf } from '../../../frontend/src/screens/stages/stage_form';
import type { Definition } from '../../../frontend/src/services/shop';
import type { StageRecord } from '../../../frontend/src/services/stages';

const MARRAM = JSON.parse(
  readFileSync('sample_data/skinpin_demo/data/definition_2603.json', 'utf8'),
) as Definition;
const WING: StageRecord = {
  ...{ record: 's1', title: 'Stage 1', scope: 'Close port wing bays R4–R8', date: '2025-11-15' },
  area: [{ structure: 'Port wing', members: ['R4', 'R8'] }],
};
const BLANK = typedOf(null);
const FULL = { ...BLANK, title: 'Stage 5', scope: 'Close the fin', date: '2026-05-02' };
const lacking = (typed: typeof BLANK, stage: StageRecord | null = null) =>
  lackingWords(typed, stage, ['Stage 1'], MARRAM);

describe('a stage written by the lead', () => {
  it('says what is lacking, one thing after the other', () => {
    expect(lacking(BLANK)).toBe('a name first');
    expect(lacking({ ...BLANK, title: ' Stage 1 ' })).toBe('there is a Stage 1');
    expect(lacking({ ...FULL, scope: '' })).toBe('what is done at it');
    expect(lacking({ ...FULL, date: '' })).toBe('a date first');
    expect(lacking(FULL)).toBeUndefined();
  });

  it('is written whole, with an area whose open end is the last there is', () => {
    const hull = { ...FULL, structure: 'Hull', members: ['F20', ''], strakes: ['', 'C'] };
    expect(setOf(hull as typeof FULL, null, MARRAM)).toEqual({
      ...{ title: 'Stage 5', scope: 'Close the fin', date: '2026-05-02' },
      area: [{ structure: 'Hull', members: ['F20', 'F30'], strakes: ['K', 'C'] }],
    });
    expect(setOf(FULL, null, MARRAM)).not.toHaveProperty('area');
  });

  it('refuses an area that ends before it begins', () => {
    const turned = { ...FULL, structure: 'Hull', members: ['F8', 'F4'] as [string, string] };
    expect(lacking(turned)).toBe('the area ends before it begins');
    expect(lacking({ ...turned, members: ['F8', 'F8'] })).toBe('the area ends before it begins');
  });

  it('writes of a change only what differs, and asks why', () => {
    const slipped = { ...typedOf(WING), date: '2025-11-22' };
    expect(setOf(slipped, WING, MARRAM)).toEqual({ date: '2025-11-22' });
    expect(lacking(slipped, WING)).toBe('a reason first');
    expect(lacking({ ...slipped, why: 'rivets come late' }, WING)).toBeUndefined();
    expect(lacking({ ...typedOf(WING), why: 'no change' }, WING)).toBe('nothing changed');
  });

  it('leaves an area of several parts as it is', () => {
    const out = { ...WING, area: [{ structure: 'Hull' }, { structure: 'Fin' }] };
    expect(setOf({ ...typedOf(out), date: '2026-06-06' }, out, MARRAM)).toEqual({
      date: '2026-06-06',
    });
  });
});

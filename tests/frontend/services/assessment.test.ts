import { describe, expect, it } from 'vitest';
import {
  othersFor,
  overruledWords,
  reasonOf,
  suggestionsFor,
} from '../../../frontend/src/services/assessment';

const judged = (kind: string, grade: number | null, missing: string[] = []) => ({
  kind,
  grade,
  grade_known: missing.length === 0,
  missing,
});
const dispositions = (...row: Parameters<typeof judged>) =>
  suggestionsFor(judged(...row), null).map((one) => one.disposition);

describe('what is suggested for a record', () => {
  it('follows its grade and its kind', () => {
    expect(dispositions('pitting', 1)).toEqual(['Clean, treat and reprotect']);
    expect(dispositions('pitting', 2)).toEqual(['Blend and reprotect']);
    expect(dispositions('loose rivets', 2)).toEqual(['Re-rivet like for like']);
    expect(dispositions('pitting', 3)).toContain('Repair by patch');
    expect(dispositions('pitting', 4)).not.toContain('Repair by patch');
  });

  it('says what each rests on, what was proposed first', () => {
    const [first, second] = suggestionsFor(judged('pitting', 3), 'Replace part');
    expect(first).toEqual({ disposition: 'Replace part', basis: 'proposed when raised' });
    expect(second).toEqual({
      disposition: 'Repair by patch',
      basis: 'for Grade 3',
    });
  });

  it('never names one twice', () => {
    const all = suggestionsFor(judged('pitting', 3), 'Repair by patch');
    expect(new Set(all.map((one) => one.disposition)).size).toBe(all.length);
  });

  it('is to look again where a figure is missing', () => {
    const [first] = suggestionsFor(judged('pitting', 2, ['depth', 'hole_major']), null);
    expect(first).toEqual({
      disposition: 'Look again',
      basis: 'to measure: depth, hole major',
    });
  });

  it('leaves every other disposition of the kind within reach', () => {
    const row = judged('pitting', 3);
    const suggested = suggestionsFor(row, null);
    const others = othersFor(row, suggested);
    expect(others).toContain('Defer');
    expect(others).toContain('Repair by insertion');
    expect(others).not.toContain('Repair by patch');
    expect(others).not.toContain('Re-rivet oversize');
  });

  it('has a reason to begin with only where a rule decides', () => {
    const words = { grade_words: 'Grade 3', deciding: 'AL3: depth 0.011 in > 0.010 in' };
    expect(reasonOf(words)).toBe('Grade 3: AL3: depth 0.011 in > 0.010 in');
    expect(reasonOf({ grade_words: 'Grade at least 2 ?', deciding: 'AL7: scaling' })).toBe(
      'Grade at least 2: AL7: scaling',
    );
    expect(reasonOf({ grade_words: 'Not graded ?', deciding: '' })).toBe('');
  });
});

describe('an overruled grade', () => {
  const row = {
    ...{ grade_words: 'Grade 3', deciding: 'AL5: loss 57.1 %' },
    overruled: { from: 4, from_words: 'Grade 4', to: 3 },
  };
  const words =
    'Grade 3, overruled by the lead 2025-11-03: doubler · the standard gives Grade 4 (AL5: loss 57.1 %)';

  it('says who overruled it, when, why, and what the standard gives', () => {
    expect(overruledWords(row, { date: '2025-11-03', why: 'doubler.' })).toBe(words);
    expect(overruledWords(row, null)).toContain('overruled by the lead: no reason given');
    expect(overruledWords({ ...row, overruled: null }, null)).toBeNull();
  });

  it('gives the reason to begin with, not the rule it went against', () => {
    expect(reasonOf(row, words)).toBe(words);
    expect(reasonOf(row)).toBe('');
    expect(reasonOf({ ...row, overruled: null })).toBe('Grade 3: AL5: loss 57.1 %');
  });
});

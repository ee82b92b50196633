// What the lead's first sheet says of backups.

import { describe, expect, it } from 'vitest';
import { keepingLines } from '../../../frontend/src/screens/assessment/keeping_words';

const kept = {
  ...{ backup_days: 1, rehearsal_days: 12, backup_due: false, rehearsal_due: false },
  ...{ check_days: 0, check_faults: 0, check_fault: null },
};

describe('backups on the first sheet', () => {
  it('are told with their age', () => {
    const [backup, rehearsal] = keepingLines(kept);
    expect(backup).toMatchObject({ last: '1 day ago', is_due: false });
    expect(rehearsal).toMatchObject({ last: '12 days ago', is_due: false });
    expect(keepingLines({ ...kept, backup_days: 0 })[0]?.last).toBe('today');
  });

  it('that are due say what to do', () => {
    const due = { ...kept, backup_days: 7, backup_due: true, rehearsal_days: null };
    const [backup, rehearsal] = keepingLines({ ...due, rehearsal_due: true });
    expect(backup?.is_due).toBe(true);
    expect(backup?.todo).toContain('skinpin backup');
    expect(rehearsal).toMatchObject({ last: 'none yet', is_due: true });
    expect(rehearsal?.todo).toContain('skinpin rehearse');
  });

  it('tell what the check of the book found, the first of it in full', () => {
    expect(keepingLines(kept)[2]).toMatchObject({ last: 'today', is_due: false });
    const check_fault = 'The photograph 00ff is missing.';
    const [, , check] = keepingLines({ ...kept, check_faults: 3, check_fault });
    expect(check?.is_due).toBe(true);
    expect(check?.todo).toMatch(/^The photograph 00ff is missing\. And 2 more\. .*check-book/);
  });
});

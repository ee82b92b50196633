// What the lead's first sheet says of backups.

import { describe, expect, it } from 'vitest';
import { keepingLines } from '../../../frontend/src/screens/assessment/keeping_words';

const kept = { backup_days: 1, rehearsal_days: 12, backup_due: false, rehearsal_due: false };

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
});

import { expect, it } from 'vitest';
import { blockWords } from '../../../frontend/src/screens/stages/screen';
import type { Line } from '../../../frontend/src/services/stages';

const defect = { kind: 'defect', row: { independent: false } } as Line;
const line = (kind: 'rivets' | 'cells') => ({ kind }) as Line;

it('says what the lines of a stage are, so that their count is no other than that of the defects', () => {
  const lines = [defect, defect, line('rivets'), line('cells')];
  expect(blockWords({ lines, cells: 16, cells_looked_at: 14 })).toBe(
    '2 defects, 1 rivet line, 1 line for cells not looked at. 14 of 16 cells looked at',
  );
  expect(blockWords({ lines: [defect], cells: 0, cells_looked_at: 0 })).toBe('1 defect');
  expect(blockWords({ lines: [], cells: 4, cells_looked_at: 4 })).toBe(
    'no defect. 4 of 4 cells looked at',
  );
});

import { describe, expect, it } from 'vitest';
import { foundWords } from '../../../frontend/src/screens/defects/found_line';

const NAMES = { a: 'Inspector 1', b: 'Inspector 2' };
const state = (by: string, date: string, move: string) => ({ by, date, value: { move } });

describe('who found a record and who raised it', () => {
  it('names both, with their days, where they are two people', () => {
    const states = [state('a', '2025-11-02', 'new'), state('b', '2025-11-03', 'raise')];
    expect(foundWords([...states, state('a', '2025-11-04', 'assess')], NAMES)).toBe(
      'Found by Inspector 1 2025-11-02, raised by Inspector 2 2025-11-03',
    );
  });

  it('says nothing of one person, of a draft, or before anything was read', () => {
    const begun = state('a', '2025-11-02', 'new');
    expect(foundWords([begun, state('a', '2025-11-03', 'raise')], NAMES)).toBe('');
    expect(foundWords([begun], NAMES)).toBe('');
    expect(foundWords([], NAMES)).toBe('');
  });
});

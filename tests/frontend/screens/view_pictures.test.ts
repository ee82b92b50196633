import { describe, expect, it } from 'vitest';
import { apartWords, inOrder } from '../../../frontend/src/screens/same_view/view_pictures';

describe('a chain', () => {
  const one = (record: string, at: string, repeat_of: string | null) => ({ record, at, repeat_of });

  it('is in order of time, and of one moment by what repeats what', () => {
    const chain = [
      one('z', '2025-11-03', 'm'),
      one('m', '2025-11-03', 'a'),
      one('b', '2025-03-08', null),
      one('a', '2025-11-03', 'b'),
    ];
    expect(inOrder(chain).map(({ record }) => record)).toEqual(['b', 'a', 'm', 'z']);
  });

  it('that runs in a ring still has an order', () => {
    const ring = [one('a', '2025-11-04', 'b'), one('b', '2025-11-03', 'a')];
    expect(inOrder(ring).map(({ record }) => record)).toEqual(['b', 'a']);
  });

  it('says how many days lie between', () => {
    expect(apartWords('2025-03-08', '2025-11-03')).toBe('240 days later');
    expect(apartWords('2025-11-03', '2025-11-03')).toBe('the same day');
    expect(apartWords('2025-11-03', '2025-11-02')).toBe('1 day earlier');
    expect(apartWords('', '2025-11-02')).toBe('');
  });
});

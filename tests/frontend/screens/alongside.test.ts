import { describe, expect, it } from 'vitest';
import { afterHold, afterLetGo } from '../../../frontend/src/screens/same_view/alongside';

describe('pictures held alongside', () => {
  const four = ['a', 'b', 'c', 'd'];

  it('are four at most: a fifth asks which goes', () => {
    expect(afterHold(['a'], 'b')).toEqual({ held: ['a', 'b'], asked: null });
    expect(afterHold(four, 'e')).toEqual({ held: four, asked: 'e' });
    expect(afterHold(four, 'c')).toEqual({ held: four, asked: null });
  });

  it('let one go, and a fifth that waits takes its place', () => {
    expect(afterLetGo(four, 'b', null)).toEqual(['a', 'c', 'd']);
    expect(afterLetGo(four, 'b', 'e')).toEqual(['a', 'e', 'c', 'd']);
  });
});

import { describe, expect, it } from 'vitest';
import { nearestFirst } from '../../../frontend/src/screens/airframe/nearest';

const at = (id: string, x: number, y: number) => ({ id, x, y });
const ids = (some: { id: string }[]) => some.map((one) => one.id).join('');

describe('nearestFirst', () => {
  const all = [at('a', 90, 10), at('b', 20, 12), at('c', 31, 40), at('d', 22, 9), at('e', 20, 12)];

  it('leaves few things as they are', () => {
    const [near, rest] = nearestFirst(all, { x: 20, y: 10 }, 5);
    expect([ids(near), ids(rest)]).toEqual(['abcde', '']);
  });

  it('parts the nearest from the rest, both in their own order', () => {
    const [near, rest] = nearestFirst(all, { x: 20, y: 10 }, 3);
    expect([ids(near), ids(rest)]).toEqual(['bde', 'ac']);
  });

  it('takes the first of things equally near', () => {
    const [near, rest] = nearestFirst(all, { x: 20, y: 12 }, 1);
    expect([ids(near), ids(rest)]).toEqual(['b', 'acde']);
  });
});

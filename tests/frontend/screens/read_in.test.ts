import { describe, expect, it } from 'vitest';
import { readIn } from '../../../frontend/src/screens/paper/read_in';

const NONE = { here: 0, left: 0, numbers: [], troubles: [] };

/** A server that gives one answer after the other, and notes what it was asked. */
function answering(answers: object[]) {
  const asked: string[] = [];
  const postBytes = async <T>(path: string) => {
    asked.push(path);
    return answers[asked.length - 1] as T;
  };
  return { asked, postBytes };
}

describe('a register read in', () => {
  const file = new Blob(['lines']);

  it('is asked for until nothing is left, and says how far it is', async () => {
    const api = answering([
      { ...NONE, records: 9, stored: 4, here: 2, left: 3, numbers: ['B/0001'] },
      { ...NONE, records: 9, stored: 2, here: 6, left: 1, numbers: ['B/0005'] },
      { ...NONE, records: 9, stored: 1, here: 8, numbers: ['B/0007'] },
    ]);
    const heard: number[][] = [];
    const told = await readIn(api, '/r', file, (...one) => heard.push(one));
    expect(told).toMatchObject({ records: 9, stored: 7, here: 2 });
    expect(told.numbers).toEqual(['B/0001', 'B/0005', 'B/0007']);
    expect(heard).toEqual([
      [4, 7],
      [6, 7],
    ]);
    expect(api.asked).toEqual(['/r', '/r', '/r']);
  });

  it('ends at a trouble, and where an answer brought nothing on', async () => {
    const trouble = { line: 3, column: 'depth', message: 'deep is no figure' };
    const faulty = answering([{ ...NONE, records: 9, stored: 0, troubles: [trouble] }]);
    expect((await readIn(faulty, '/r', file, () => {})).troubles).toEqual([trouble]);
    const stuck = answering([{ ...NONE, records: 9, stored: 0, left: 5 }]);
    expect((await readIn(stuck, '/r', file, () => {})).left).toBe(5);
    expect(stuck.asked).toHaveLength(1);
  });
});

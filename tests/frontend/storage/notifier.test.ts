import { describe, expect, it } from 'vitest';
import { live, Notifier } from '../../../frontend/src/storage/notifier';

const settle = () => new Promise((resolve) => setTimeout(resolve, 5));

describe('live', () => {
  it('tells the answer now and after each change, and stops', async () => {
    const notifier = new Notifier('live1');
    let value = 3;
    const told: number[] = [];
    const stop = live(
      notifier,
      async () => value,
      (found) => told.push(found),
    );
    await settle();
    value = 5;
    notifier.announce(['rows']);
    await settle();
    stop();
    value = 7;
    notifier.announce(['rows']);
    await settle();
    expect(told).toEqual([3, 5]);
    notifier.close();
  });

  it('asks once more for changes that come while a query runs', async () => {
    const notifier = new Notifier('live2');
    let runs = 0;
    const told: number[] = [];
    const query = async () => {
      runs += 1;
      const now = runs;
      await settle();
      return now;
    };
    const stop = live(notifier, query, (found) => told.push(found));
    for (let n = 0; n < 9; n += 1) notifier.announce(['rows']);
    await new Promise((resolve) => setTimeout(resolve, 40));
    expect(told).toEqual([1, 2]);
    stop();
    notifier.close();
  });

  it('says why a query failed and tries again at the next change', async () => {
    const notifier = new Notifier('live3');
    const failures: unknown[] = [];
    const told: number[] = [];
    let broken = true;
    const query = async () => {
      if (broken) throw new Error('no rows');
      return 4;
    };
    const stop = live(
      notifier,
      query,
      (found) => told.push(found),
      (error) => failures.push(error),
    );
    await settle();
    broken = false;
    notifier.announce(['rows']);
    await settle();
    expect([failures.length, told]).toEqual([1, [4]]);
    stop();
    notifier.close();
  });

  it('tells nothing while a work is held, and once afterwards', async () => {
    const notifier = new Notifier('live4');
    const told: string[][] = [];
    notifier.listen((stores) => told.push([...stores]));
    let done = () => {};
    const work = notifier.hold(new Promise<void>((resolve) => (done = resolve)));
    notifier.announce(['files']);
    notifier.announce(['rows']);
    await settle();
    expect(told).toEqual([]);
    done();
    await work;
    await settle();
    expect(told).toEqual([['files', 'rows']]);
    notifier.close();
  });

  it('goes on telling when a held work fails', async () => {
    const notifier = new Notifier('live5');
    const told: string[][] = [];
    notifier.listen((stores) => told.push([...stores]));
    const work = notifier.hold(Promise.reject(new Error('full')));
    notifier.announce(['files']);
    await expect(work).rejects.toThrow('full');
    await settle();
    expect(told).toEqual([['files']]);
    notifier.close();
  });
});

// @vitest-environment happy-dom
import { act } from 'preact/test-utils';
import { afterEach, describe, expect, it } from 'vitest';
import { AgainSheet, againOn } from '../../../frontend/src/screens/frame/again_sheet.tsx';
import { cleared, drawn, keyOf, press } from '../furniture/dom.ts';

afterEach(cleared);

describe('the sheet of a new version', () => {
  it('says how many records of how many are worked out', () => {
    const box = drawn(<AgainSheet step={{ done: 1200, of: 5000 }} />);
    expect(box.querySelector('h2')?.textContent).toBe(
      'Working the book out again: 1,200 of 5,000 records',
    );
    const scale = box.querySelector('[role=progressbar]');
    expect(scale?.getAttribute('aria-valuenow')).toBe('1200');
    expect(scale?.getAttribute('aria-valuemax')).toBe('5000');
    expect(box.textContent).toContain('Nothing recorded is changed');
  });

  it('inks the scale as far as it is', () => {
    const inked = (done: number) =>
      drawn(<AgainSheet step={{ done, of: 5000 }} />).querySelectorAll('g .ln.medium').length;
    expect([inked(0), inked(1200), inked(5000)]).toEqual([1, 3, 11]);
  });

  it.each([0, 1, 7, 12, 99, 1000, 5000, 123_456])('has ten parts at most for %i records', (of) => {
    const ticks = drawn(<AgainSheet step={{ done: 0, of }} />).querySelectorAll('g');
    expect(ticks.length).toBeGreaterThan(0);
    expect(ticks.length).toBeLessThanOrEqual(11);
  });

  it('says that another tab comes first, to those who listen too', () => {
    const box = drawn(<AgainSheet step="waits" />);
    expect(box.querySelector('[role=progressbar]')).toBeNull();
    expect(box.querySelector('p[role=status]')?.textContent).toContain('goes on by itself');
  });
});

describe('a failure', () => {
  it.each([
    ['TRY AGAIN', true],
    ['GO ON', false],
  ])('is answered by %s', async (words, answer) => {
    const box = drawn(null);
    const told = againOn(box);
    void act(() => told.tell({ done: 3, of: 9 }));
    let asked: Promise<boolean> | undefined;
    void act(() => {
      asked = told.failed('This tablet is full: the last step could not be stored.');
    });
    expect(box.querySelector('[role=alert]')?.textContent).toContain('This tablet is full');
    expect(box.querySelector('[role=alert]')?.textContent).toContain('Nothing is lost');
    expect(keyOf(box, words).className).toContain('key');
    press(box, words);
    expect(await asked).toBe(answer);
    expect(box.querySelector('[role=alert]')).toBeNull();
    expect(box.querySelector('h2')?.textContent).toContain('3 of 9 records');
  });
});

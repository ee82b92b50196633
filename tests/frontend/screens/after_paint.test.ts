// @vitest-environment happy-dom
import { h, render } from 'preact';
import { act } from 'preact/test-utils';
import { expect, it } from 'vitest';
import { afterPaint, useSettled } from '../../../frontend/src/screens/frame/after_paint';

const painted = () =>
  new Promise<void>((done) =>
    requestAnimationFrame(() => setTimeout(() => setTimeout(done, 0), 0)),
  );

it('works after the frame, in the order it was asked for', async () => {
  const done: number[] = [];
  for (const at of [1, 2, 3]) afterPaint(() => done.push(at));
  expect(done).toEqual([]);
  await painted();
  expect(done).toEqual([1, 2, 3]);
});

it('does at once what still waits when the page is put aside', async () => {
  const done: number[] = [];
  afterPaint(() => done.push(1));
  dispatchEvent(new Event('pagehide'));
  expect(done).toEqual([1]);
  await painted();
  expect(done).toEqual([1]);
});

it('lets a value settle after the paint, and at once with other inputs', async () => {
  const seen: string[] = [];
  function Shown({ value, input }: { value: string; input: number }) {
    seen.push(`${value} ${useSettled(value, [input])}`);
    return null;
  }
  const box = document.createElement('div');
  const draw = (value: string, input: number) => act(() => render(h(Shown, { value, input }), box));
  await draw('a', 1);
  await draw('b', 1);
  expect(seen.at(-1)).toBe('b a');
  await act(painted);
  expect(seen.at(-1)).toBe('b b');
  await draw('c', 2);
  expect(seen.at(-1)).toBe('c c');
});

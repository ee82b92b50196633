/** A sheet in memory: what is drawn on it, and keys pressed on it, as a browser would. */

import { type ComponentChildren, render } from 'preact';
import { act } from 'preact/test-utils';

/** Draws children and returns the box they stand in. */
export function drawn(children: ComponentChildren): HTMLElement {
  const box = document.createElement('div');
  document.body.append(box);
  void act(() => render(children, box));
  return box;
}

/** Clears the sheet for the next test. */
export function cleared(): void {
  for (const box of [...document.body.children]) {
    void act(() => render(null, box));
    box.remove();
  }
}

/** What a key is called by those who listen: its label for them, else its words. */
export function nameOf(element: Element): string {
  return (element.getAttribute('aria-label') ?? element.textContent ?? '').trim();
}

/** The key whose name begins with these words. */
export function keyOf(box: Element, words: string): HTMLButtonElement {
  const keys = [...box.querySelectorAll('button')];
  const found = keys.find((key) => nameOf(key).startsWith(words));
  if (!found)
    throw new Error(`No key “${words}”; there are ${keys.map(nameOf).join(' | ') || 'none'}.`);
  return found;
}

/** Presses a key, and lets the sheet be drawn again. */
export function press(box: Element, words: string): void {
  void act(() => keyOf(box, words).click());
}

/** Presses a key of the keyboard. */
export function type(key: string, target: EventTarget = document): void {
  void act(() => {
    target.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }));
  });
}

import { useEffect, useReducer } from 'preact/hooks';
import { useKeydown } from '../../furniture';

/** What keys of the keyboard do on the defect book. */
export interface Acts {
  step: (by: 1 | -1) => void;
  find: () => void;
}

const KEPT = 'skinpin.letters';
const CHANGED = 'skinpin-letters';

/** Whether single letters act; a person may switch them off. */
export function shortcutsOn(): boolean {
  return localStorage.getItem(KEPT) !== 'off';
}

export function setShortcuts(on: boolean): void {
  localStorage.setItem(KEPT, on ? 'on' : 'off');
  dispatchEvent(new Event(CHANGED));
}

/** Listens for / J K and the arrows, while nobody is writing. */
export function useShortcuts(acts: Acts): void {
  const [, again] = useReducer((count: number) => count + 1, 0);
  useEffect(() => {
    addEventListener(CHANGED, again as () => void);
    return () => removeEventListener(CHANGED, again as () => void);
  }, []);
  useKeydown((event) => {
    const act = isFree(event) ? actOf(event, acts) : null;
    if (!act) return;
    event.preventDefault();
    act();
  });
}

function actOf(event: KeyboardEvent, acts: Acts): (() => void) | null {
  const { key, target } = event;
  const isLetter = shortcutsOn();
  if (isLetter && key === '/') return acts.find;
  if (isLetter && key.toLowerCase() === 'j') return () => acts.step(1);
  if (isLetter && key.toLowerCase() === 'k') return () => acts.step(-1);
  // Arrows roll a sheet that has the focus; in the list, or nowhere, they step.
  const inList = !(target instanceof Element) || !target.closest('main');
  if (inList && key === 'ArrowDown') return () => acts.step(1);
  return inList && key === 'ArrowUp' ? () => acts.step(-1) : null;
}

function isFree(event: KeyboardEvent): boolean {
  if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return false;
  const { target } = event;
  return !(target instanceof Element && target.closest('input, textarea, select'));
}

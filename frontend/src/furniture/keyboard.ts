import { useLayoutEffect, useRef } from 'preact/hooks';

/**
 * Listens to the keyboard while a part of the sheet is there. A key acts on the part as it was
 * drawn last, and is heard from the moment it is drawn: to listen anew only after each painting
 * would lose what is pressed before it.
 */
export function useKeydown(listen: (event: KeyboardEvent) => void): void {
  const newest = useRef(listen);
  newest.current = listen;
  useLayoutEffect(() => {
    const heard = (event: KeyboardEvent) => newest.current(event);
    document.addEventListener('keydown', heard);
    return () => document.removeEventListener('keydown', heard);
  }, []);
}

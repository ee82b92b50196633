import type { RefObject } from 'preact';
import { useLayoutEffect, useState } from 'preact/hooks';

/** Width in CSS px inside the border of the element in `box`, followed as it changes; `first_px` until
it is known. */
export function useWidth(box: RefObject<Element | null>, first_px: number): number {
  const [width_px, setWidth] = useState(first_px);
  useLayoutEffect(() => {
    const element = box.current;
    if (!element) return;
    const read = () => setWidth(innerWidth(element) || first_px);
    read();
    const observer = new ResizeObserver(read);
    observer.observe(element);
    return () => observer.disconnect();
  }, [box, first_px]);
  return width_px;
}

function innerWidth(element: Element): number {
  return element.getBoundingClientRect().width - 2 * element.clientLeft;
}

/** Width in px that text takes in the condensed sans of the sheet, never much less. */
export function textWidth(text: string, size_px: number, bold = false): number {
  let ems = 0;
  for (const letter of text) ems += letterWidth(letter);
  return ems * size_px * (bold ? 1.1 : 1);
}

function letterWidth(letter: string): number {
  if (letter === ' ') return 0.29;
  if (/[ilj.,:;'’|!·]/.test(letter)) return 0.3;
  if (/[0-9]/.test(letter)) return 0.575;
  if (/[MWmw@%]/.test(letter)) return 0.86;
  if (letter === '±') return 0.78;
  return /[A-Z]/.test(letter) ? 0.62 : 0.54;
}

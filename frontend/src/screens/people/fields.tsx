import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

/** The lines of a form just opened: it comes into view with its first line ready. */
export function Opened({ children }: { children: ComponentChildren }) {
  const lines = useRef<HTMLDivElement>(null);
  useEffect(() => {
    lines.current?.querySelector<HTMLElement>('input, button')?.focus({ preventScroll: true });
    lines.current?.closest('.strip')?.scrollIntoView({ block: 'nearest' });
  }, []);
  return (
    <div class="people-form" ref={lines}>
      {children}
    </div>
  );
}

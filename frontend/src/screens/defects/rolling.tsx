import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';

/** A part of the sheet that rolls by itself, and says so while more lies below. */
export function Rolling(props: {
  label: string;
  /** Part of the sheet, for its place in the grid. */
  place?: string | undefined;
  children: ComponentChildren;
}) {
  const box = useRef<HTMLDivElement>(null);
  const [more, setMore] = useState(false);
  const look = () => {
    const { current } = box;
    if (current) setMore(current.scrollHeight - current.scrollTop - current.clientHeight > 8);
  };
  useEffect(() => {
    const { current } = box;
    if (!current) return;
    const watch = new ResizeObserver(look);
    watch.observe(current);
    for (const child of current.children) watch.observe(child);
    const changed = new MutationObserver(look);
    changed.observe(current, { childList: true, subtree: true });
    look();
    return () => {
      watch.disconnect();
      changed.disconnect();
    };
  }, []);
  const roll = () => {
    const { current } = box;
    current?.scrollBy({ top: current.clientHeight * 0.8 });
  };
  return (
    <div class={`rolling ${props.place ?? ''}`}>
      {/* A part that rolls must be reachable by keyboard. */}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: arrows roll it */}
      <section class="rolling-box" ref={box} onScroll={look} aria-label={props.label} tabIndex={0}>
        {props.children}
      </section>
      {more && (
        <button type="button" class="rolling-more" onClick={roll}>
          ▾ more below
        </button>
      )}
    </div>
  );
}

import type { ComponentChildren } from 'preact';

/** One group of parts under its heading. */
export function Part({ title, children }: { title: string; children: ComponentChildren }) {
  return (
    <section class="parts-group">
      <h3 class="parts-heading">{title}</h3>
      {children}
    </section>
  );
}

/** A part with its words under it. */
export function Shown({ words, children }: { words: string; children: ComponentChildren }) {
  return (
    <div class="parts-shown">
      {children}
      <span>{words}</span>
    </div>
  );
}

import type { ComponentChildren } from 'preact';

/** Whether a click asks for another window or tab, which the browser opens by itself. */
export function isOtherWindow(event: MouseEvent): boolean {
  return event.ctrlKey || event.metaKey || event.shiftKey || event.altKey || event.button !== 0;
}

/** A link to another sheet: opened within the app, or by the browser where that is asked for. */
export function SheetLink(props: {
  href: string;
  onOpen: (href: string) => void;
  class?: string | undefined;
  children: ComponentChildren;
}) {
  return (
    <a
      class={props.class}
      href={props.href}
      onClick={(event) => {
        if (isOtherWindow(event)) return;
        event.preventDefault();
        props.onOpen(props.href);
      }}
    >
      {props.children}
    </a>
  );
}

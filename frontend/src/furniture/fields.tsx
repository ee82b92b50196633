import { useKeydown } from './keyboard.ts';
import { isOtherWindow } from './sheet_link.tsx';
import './fields.css';

export interface IndexField {
  name: string;
  href: string;
  open?: boolean | undefined;
}

export interface SheetIndexProps {
  /** Up to eight fields, numbered from 1 in this order. */
  fields: IndexField[];
  /** Opens a field in the app; without it the link's own address is followed. */
  onOpen?: ((href: string) => void) | undefined;
  /** Digits 1–8 open a field; a person may switch that off. */
  digits?: boolean | undefined;
  /** Name for those who listen. */
  label?: string | undefined;
}

/** Top border of a desk sheet: eight numbered fields, the open one inked. */
export function SheetIndex({ fields, onOpen, digits = true, label = 'Sheets' }: SheetIndexProps) {
  useKeydown((event) => {
    const field = digits ? fields[Number(event.key) - 1] : undefined;
    if (field && isFreeDigit(event)) follow(field.href, onOpen);
  });
  return (
    <nav class="sheet-index" aria-label={label}>
      <div class="index-fields">
        {fields.map((field, at) => (
          <a
            key={field.href}
            class={field.open ? 'index-field open' : 'index-field'}
            href={field.href}
            aria-current={field.open ? 'page' : undefined}
            onClick={(event) => {
              if (!onOpen || isOtherWindow(event)) return;
              event.preventDefault();
              onOpen(field.href);
            }}
          >
            <span class="index-number">{at + 1}</span>
            <span class="index-name">{field.name}</span>
          </a>
        ))}
      </div>
    </nav>
  );
}

function follow(href: string, onOpen: ((href: string) => void) | undefined) {
  if (onOpen) onOpen(href);
  else location.assign(href);
}

/** A digit that nobody is writing with: no field in focus, no number pad on the sheet. */
function isFreeDigit(event: KeyboardEvent): boolean {
  if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return false;
  const target = event.target;
  if (target instanceof Element && target.closest('input, textarea, select, [contenteditable]'))
    return false;
  return document.querySelector('[data-takes-figures]') === null;
}

import type { ComponentChildren } from 'preact';
import { useEffect, useId, useRef } from 'preact/hooks';

/** One line of text with its label above. */
export function TextField(props: {
  label: string;
  value: string;
  onText: (text: string) => void;
  type?: 'text' | 'password' | undefined;
}) {
  const id = useId();
  const { value, type } = props;
  const onInput = (event: { currentTarget: HTMLInputElement }) =>
    props.onText(event.currentTarget.value);
  return (
    <div class="people-field">
      <label htmlFor={id}>{props.label}</label>
      {type === 'password' ? (
        <input id={id} type="password" autocomplete="new-password" {...{ value, onInput }} />
      ) : (
        <input id={id} type="text" autocomplete="off" {...{ value, onInput }} />
      )}
    </div>
  );
}

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

import { useEffect, useId, useRef } from 'preact/hooks';

/** A caption over a line to write on, ruled as a cell of the sheet. */
export function SetLine(props: {
  label: string;
  value: string;
  example?: string | undefined;
  wrong?: string | undefined;
  narrow?: boolean | undefined;
  /** The keyboard begins here. */
  first?: boolean | undefined;
  onText: (text: string) => void;
  onEnter?: (() => void) | undefined;
}) {
  const { label, value, example, wrong, narrow } = props;
  const id = useId();
  const box = useRef<HTMLInputElement>(null);
  useEffect(() => {
    if (props.first && value === '') box.current?.focus();
  }, []);
  return (
    <div class={narrow ? 'set-line narrow' : 'set-line'}>
      <label for={id}>{label}</label>
      <input
        ref={box}
        id={id}
        type="text"
        autocomplete="off"
        spellcheck={false}
        placeholder={example && `such as ${example}`}
        value={value}
        aria-invalid={wrong !== undefined}
        onInput={(event) => props.onText(event.currentTarget.value)}
        onKeyDown={(event) => event.key === 'Enter' && props.onEnter?.()}
      />
      {wrong && <p class="set-wrong">{wrong}</p>}
    </div>
  );
}

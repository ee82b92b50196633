import type { ComponentChildren } from 'preact';
import './field.css';

interface FieldProps {
  label: string;
  value: string;
  onText: (text: string) => void;
}

/** A line to write on, with its caption over it. */
export function TextField(
  props: FieldProps & {
    type?: 'text' | 'password' | undefined;
    name?: string | undefined;
    /** At the airframe: letters and line are large. */
    large?: boolean | undefined;
    /** Digits are asked for first, where the system has a keyboard of its own. */
    figures?: boolean | undefined;
    /** A new passcode is no known one. */
    autocomplete?: 'off' | 'new-password' | undefined;
  },
) {
  const { type = 'text', autocomplete = 'off', name, value } = props;
  const line = {
    ...{ name, value, autocomplete },
    onInput: (event: { currentTarget: HTMLInputElement }) =>
      props.onText(event.currentTarget.value),
  };
  return (
    <Field label={props.label} large={props.large}>
      {type === 'password' ? (
        <input type="password" inputMode={props.figures ? 'numeric' : undefined} {...line} />
      ) : (
        <input type="text" {...line} />
      )}
    </Field>
  );
}

/** One of some names; the first line says what none of them means. */
export function ChoiceField(props: FieldProps & { names: readonly string[]; empty: string }) {
  return (
    <Field label={props.label}>
      <select value={props.value} onChange={(event) => props.onText(event.currentTarget.value)}>
        <option value="">{props.empty}</option>
        {props.names.map((name) => (
          <option key={name} value={name}>
            {name}
          </option>
        ))}
      </select>
    </Field>
  );
}

/** The caption over whatever is written or chosen. */
export function Field(props: {
  label: string;
  large?: boolean | undefined;
  children: ComponentChildren;
}) {
  return (
    // biome-ignore lint/a11y/noLabelWithoutControl: the control is what stands in it
    <label class={props.large ? 'field large' : 'field'}>
      <span>{props.label}</span>
      {props.children}
    </label>
  );
}

import { useEffect, useState } from 'preact/hooks';
import { dayNumber } from '../../domain/figures';
import './field.css';

/** A day typed as 2025-11-03, in whatever language the browser is; told only once it is a day. */
export function DayField(props: {
  label: string;
  value: string;
  name?: string | undefined;
  /** The last day that may be given. */
  max?: string | undefined;
  onText: (day: string) => void;
}) {
  const { value, max } = props;
  const [typed, setTyped] = useState(value);
  useEffect(() => {
    // What is half typed stays, whatever was told of it.
    if (value !== '') setTyped(value);
  }, [value]);
  const lack = dayLack(typed, max);
  const type = (text: string) => {
    setTyped(text);
    props.onText(dayLack(text.trim(), max) ? '' : text.trim());
  };
  return (
    <label class="field">
      <span>{props.label}</span>
      <input
        type="text"
        inputMode="numeric"
        autocomplete="off"
        placeholder="yyyy-mm-dd"
        name={props.name}
        value={typed}
        aria-invalid={lack !== null && typed.trim().length >= 10}
        onInput={(event) => type(event.currentTarget.value)}
      />
      {lack && typed.trim().length >= 10 && <span role="alert">{lack}</span>}
    </label>
  );
}

/** Why what was typed is not taken: not a day, or a day too late. Nothing typed lacks nothing. */
export function dayLack(text: string, max?: string): string | null {
  const day = text.trim();
  if (day === '') return null;
  if (dayNumber(day) === null) return `${day} is no day. Write it as 2025-11-03.`;
  return max && day > max ? `${day} has not come yet. Give a day up to ${max}.` : null;
}

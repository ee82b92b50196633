import { useId } from 'preact/hooks';

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

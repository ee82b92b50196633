import { useState } from 'preact/hooks';
import { Key, KeyRow, useKeydown } from '../../furniture';
import { TextField } from './fields';
import './passcode.css';

export interface PasscodeProps {
  /** What the main key does: "SIGN IN", "STAMP". */
  label: string;
  second?: string | undefined;
  value: string;
  busy?: boolean | undefined;
  onChange: (value: string) => void;
  onDone: () => void;
  onBack: () => void;
  back: string;
}

const FIGURES = ['7', '8', '9', '4', '5', '6', '1', '2', '3'];
const LEAST = 4;
const MOST = 64;

/** A pad for a passcode, in the key area: figures are never shown, only counted. */
export function PasscodePad(props: PasscodeProps) {
  const { value, onChange } = props;
  const add = (figure: string) => value.length < MOST && onChange(value + figure);
  const short = value.length < LEAST ? 'type the passcode' : undefined;
  useFigures(props, add, short === undefined);
  const [letters, setLetters] = useState(false);
  if (letters) return <Phrase {...props} short={short} onFigures={() => setLetters(false)} />;
  return (
    <div class="passcode">
      <output class="passcode-count" aria-live="polite">
        {value === '' ? 'Passcode' : '● '.repeat(value.length).trim()}
        <span class="spoken">{`${value.length} figures typed`}</span>
      </output>
      {FIGURES.map((figure) => (
        <Key key={figure} label={figure} letters={40} onPress={() => add(figure)} />
      ))}
      <Key label="BACK" second={props.back} onPress={props.onBack} />
      <Key label="0" letters={40} onPress={() => add('0')} />
      <Key label="RUB OUT" second="last figure" onPress={() => onChange(value.slice(0, -1))} />
      <Key label="LETTERS" second="for a phrase" onPress={() => setLetters(true)} />
      <Key
        label={props.label}
        kind="main"
        letters={28}
        place="passcode-done"
        second={props.second}
        unavailable={props.busy ? 'a moment …' : short}
        onPress={props.onDone}
      />
    </div>
  );
}

/** A passcode of words, typed in a field. */
function Phrase(props: PasscodeProps & { short: string | undefined; onFigures: () => void }) {
  return (
    <form
      class="phrase"
      onSubmit={(event) => {
        event.preventDefault();
        if (!props.short && !props.busy) props.onDone();
      }}
    >
      <TextField
        label="Passcode or phrase"
        type="password"
        large
        value={props.value}
        onText={props.onChange}
      />
      <KeyRow>
        <Key label="FIGURES" second="back to the pad" onPress={props.onFigures} />
        <Key label="BACK" second={props.back} onPress={props.onBack} />
      </KeyRow>
      <Key
        type="submit"
        label={props.label}
        kind="main"
        letters={28}
        second={props.second}
        unavailable={props.busy ? 'a moment …' : props.short}
      />
    </form>
  );
}

/** The keyboard's figures, Backspace and Enter do the same. */
function useFigures(props: PasscodeProps, add: (figure: string) => void, ready: boolean) {
  useKeydown((event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const target = event.target instanceof Element ? event.target : null;
    if (target?.closest('input')) return;
    const elsewhere = target?.closest('button');
    if (/^[0-9]$/.test(event.key)) add(event.key);
    else if (event.key === 'Backspace') props.onChange(props.value.slice(0, -1));
    else if (event.key === 'Enter' && ready && !elsewhere && !props.busy) props.onDone();
    else return;
    event.preventDefault();
  });
}

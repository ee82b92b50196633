import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { DeskKey } from '../../furniture';
import type { LineTrouble } from '../../services/airframes';

/** One box to paste into, its lines numbered, and beside them what is wrong with which. */
export function PasteBox(props: {
  label: string;
  example: string;
  troubles: readonly LineTrouble[];
  busy: boolean;
  /** Something is typed in the box. */
  onEdit: () => void;
  onRead: (text: string) => void;
}) {
  const { label, example, troubles, busy, onEdit, onRead } = props;
  const [text, setText] = useState('');
  const id = useId();
  const box = useRef<HTMLTextAreaElement>(null);
  const numbers = useRef<HTMLOListElement>(null);
  useEffect(() => box.current?.focus(), []);
  const lines = text.split('\n');
  const wrong = new Set(troubles.map((one) => one.line));
  const go = (line: number) => {
    const from = lines.slice(0, line - 1).join('\n').length + (line > 1 ? 1 : 0);
    box.current?.focus();
    box.current?.setSelectionRange(from, from + (lines[line - 1]?.length ?? 0));
  };
  const is_empty = text.trim() === '';
  return (
    <div class="paste">
      <label for={id}>{label}</label>
      <div class="paste-lines">
        <ol ref={numbers} class="paste-numbers" aria-hidden="true">
          {lines.map((_, at) => (
            <li key={at} class={wrong.has(at + 1) ? 'wrong' : undefined}>
              {at + 1}
            </li>
          ))}
        </ol>
        <textarea
          ref={box}
          id={id}
          spellcheck={false}
          autocomplete="off"
          wrap="off"
          placeholder={`such as:\n${example}`}
          value={text}
          onInput={(event) => {
            setText(event.currentTarget.value);
            onEdit();
          }}
          onScroll={(event) => {
            if (numbers.current) numbers.current.scrollTop = event.currentTarget.scrollTop;
          }}
          onKeyDown={(event) => {
            if (event.key !== 'Enter' || !event.ctrlKey) return;
            event.preventDefault();
            if (!is_empty && !busy) onRead(text);
          }}
        />
        {troubles.length > 0 && (
          <ol class="paste-troubles" aria-label="Lines that could not be read">
            {troubles.map((one) => (
              <li key={`${one.line}${one.column}${one.message}`}>
                <button type="button" onClick={() => go(one.line)}>
                  line {one.line}
                  {one.column ? `, ${one.column}` : ''}
                </button>{' '}
                {one.message}
              </li>
            ))}
          </ol>
        )}
      </div>
      <DeskKey
        label="READ THE LINES"
        kind="main"
        second="CTRL + ENTER"
        unavailable={busy ? 'a moment …' : is_empty ? 'nothing is pasted' : undefined}
        onPress={() => onRead(text)}
      />
    </div>
  );
}

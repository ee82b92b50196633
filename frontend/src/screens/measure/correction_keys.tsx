import { useState } from 'preact/hooks';
import { fieldOf } from '../../domain/fields';
import { valueWords } from '../../domain/history';
import { Key } from '../../furniture';
import { REASONS } from '../../services/corrections';
import type { DefectRow, Json } from '../../services/shop';
import './correction.css';

/** Asks why what stands of a raised record is changed: one key, or free words. */
export function CorrectionKeys(props: {
  row: DefectRow;
  /** What is to be written, and what stands. */
  set: Record<string, Json>;
  values: Record<string, Json>;
  onReason: (why: string) => void;
  onKeep: () => void;
}) {
  const { row, set, values } = props;
  const [words, setWords] = useState('');
  return (
    <div class="choice-keys correction-keys">
      <h2 class="choice-question">{row.number} is raised. Why is it changed?</h2>
      <div class="correction-lines">
        {Object.entries(set).map(([field, value]) => (
          <p key={field}>
            {fieldOf('defect', field)?.label ?? field}{' '}
            <del>{valueWords('defect', field, values[field] ?? null, {})}</del>{' '}
            <ins>{valueWords('defect', field, value, {})}</ins>
          </p>
        ))}
      </div>
      {REASONS.map((why) => (
        <Key key={why} label={why} size="desk" onPress={() => props.onReason(why)} />
      ))}
      <label class="correction-words">
        In other words
        <input
          type="text"
          autocomplete="off"
          value={words}
          onInput={(event) => setWords(event.currentTarget.value)}
          onKeyDown={(event) => event.key === 'Enter' && words.trim() && props.onReason(words)}
        />
      </label>
      <Key
        label="CHANGE IT"
        kind="main"
        second="for these words"
        unavailable={words.trim() ? undefined : 'a reason first'}
        onPress={() => props.onReason(words)}
      />
      <Key label="LEAVE IT AS IT WAS" onPress={props.onKeep} />
    </div>
  );
}

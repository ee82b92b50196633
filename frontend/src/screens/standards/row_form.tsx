import { DeskKey } from '../../furniture';
import {
  type Basis,
  limitsOf,
  MARKERS,
  type StandardRow,
  withLimit,
} from '../../services/standards';
import { Field, TextField } from '../frame/fields';

const GRADES = [0, 1, 2, 3, 4];

/** A row's limits, grade, words and basis, each to be typed anew; its conditions stay as they are. */
export function RowForm(props: {
  row: StandardRow;
  onChange: (change: Partial<StandardRow>) => void;
}) {
  const { row, onChange } = props;
  const setBasis = (change: Partial<Basis>) => onChange({ basis: { ...row.basis, ...change } });
  const limits = limitsOf(row.when);
  return (
    <div class="standard-form">
      {limits.map(({ path, sign, value, unit }, at) => (
        <TextField
          key={path.join('/')}
          label={`Limit${limits.length > 1 ? ` ${at + 1}` : ''} ${sign} ${unit && `(${unit})`}`}
          value={value}
          onText={(text) => onChange({ when: withLimit(row.when, path, text.trim()) })}
        />
      ))}
      <fieldset class="standard-grades" aria-label="Grade">
        {GRADES.map((grade) => (
          <DeskKey
            key={grade}
            label={String(grade)}
            spoken={`Grade ${grade}`}
            chosen={row.grade === grade}
            onPress={() => onChange({ grade })}
          />
        ))}
      </fieldset>
      <div class="standard-wide">
        <TextField
          label="Words of the limit"
          value={row.text}
          onText={(text) => onChange({ text })}
        />
      </div>
      <div class="standard-wide">
        <TextField
          label="Basis: what the source says"
          value={row.basis.text}
          onText={(text) => setBasis({ text })}
        />
      </div>
      <div class="standard-wide">
        <TextField
          label="Source"
          value={row.basis.source}
          onText={(source) => setBasis({ source })}
        />
      </div>
      <Field label="How the source is known">
        <select
          value={row.basis.marker}
          onChange={(event) => setBasis({ marker: event.currentTarget.value })}
        >
          {MARKERS.map((name) => (
            <option key={name} value={name}>
              {name}
            </option>
          ))}
        </select>
      </Field>
    </div>
  );
}

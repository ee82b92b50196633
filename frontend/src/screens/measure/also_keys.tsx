import { figureText } from '../../domain/quantities';
import { Key, KeyRow } from '../../furniture';
import type { Json } from '../../services/shop';
import { type Asked, isOpen } from './asked';
import { EndKeys, type Ends } from './end_keys';
import { type PartOffered, partFields } from './parts';

/** What else was seen, each by one touch: blistered, perforated, paint; and which part it is. */
export function AlsoKeys(
  props: Ends & {
    asked: readonly Asked[];
    values: Record<string, Json>;
    parts: readonly PartOffered[];
    unit: 'in' | 'mm';
    onSet: (set: Record<string, Json>) => void;
    onOpen: (field: string) => void;
    onDone: () => void;
  },
) {
  const { asked, values, parts, unit, onSet, onOpen } = props;
  const others = asked.filter((one) => one.optional);
  return (
    <div class="choices">
      <KeyRow label="Also seen">
        {others.map((one) => (
          <Key
            key={one.field}
            label={one.label.toUpperCase()}
            letters={18}
            size="inside"
            place="choice"
            chosen={one.type === 'yes_no' ? values[one.field] === true : undefined}
            second={stands(one, values[one.field])}
            onPress={() => {
              if (one.type !== 'yes_no' && one.type !== 'word') onOpen(one.field);
              else onSet({ [one.field]: nextAnswer(one, values[one.field]) });
            }}
          />
        ))}
      </KeyRow>
      {parts.length > 1 && (
        <KeyRow label="Part">
          {parts.map((one) => (
            <Key
              key={one.part}
              label={one.part}
              letters={18}
              place="choice"
              chosen={one.part === values.part}
              second={one.thickness ? `${one.thickness} ${unit}` : undefined}
              onPress={() => onSet(partFields(one, unit))}
            />
          ))}
        </KeyRow>
      )}
      <div class="choice-last">
        <EndKeys {...props} />
        <Key
          label="NEXT ►"
          second="raise it"
          kind="main"
          letters={28}
          size="inside"
          onPress={props.onDone}
        />
      </div>
    </div>
  );
}

function stands(one: Asked, value: Json | undefined): string {
  if (isOpen(value)) return 'not asked yet';
  if (one.type === 'yes_no') return value === true ? 'yes' : 'no';
  return one.type === 'percent' ? `${value} %` : valueText(value);
}

function valueText(value: Json | undefined): string {
  return figureText(value) || String(value);
}

function nextAnswer(one: Asked, value: Json | undefined): Json {
  if (one.type === 'yes_no') return value !== true;
  const choices = one.choices ?? [];
  return choices[(choices.indexOf(String(value)) + 1) % choices.length] ?? null;
}

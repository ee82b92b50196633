import { dispositionsFor, GRADES } from '../../domain/kinds';
import { figureText, isQuantity, type Quantity } from '../../domain/quantities';
import { DeskKey } from '../../furniture';
import type { DefectRow, Json, Shop } from '../../services/shop';
import { DayField } from '../frame/day_field';
import { TextField } from '../frame/fields';
import { useLive } from '../live';
import { askedFor } from '../measure/graded';
import { type Picture, whenWords } from '../photograph/pictures';
import { AfterWork } from './after_work';
import type { FormField } from './move_forms';

interface Props {
  field: FormField;
  value: string;
  row: DefectRow;
  photographs: Picture[];
  shop: Shop;
  onValue: (value: string) => void;
}

/** One thing that a move asks for. */
export function MoveField(props: Props) {
  const { field, value, onValue } = props;
  if (field.type === 'choice') return <ChoiceField {...props} field={field} />;
  if (field.type === 'photograph')
    return (
      <AfterWork {...props}>
        <Choices
          label={field.label}
          value={value}
          onValue={onValue}
          choices={props.photographs.map((one) => one.record)}
          words={props.photographs.map((one) => `${one.role} ${whenWords(one)}`)}
        />
      </AfterWork>
    );
  return <TypedField {...props} />;
}

function TypedField({ field, value, onValue }: Props) {
  const is_passcode = field.type === 'passcode';
  if (field.type === 'date') return <DayField label={field.label} value={value} onText={onValue} />;
  return (
    <TextField
      label={field.label}
      type={is_passcode ? 'password' : 'text'}
      figures={is_passcode}
      value={value}
      onText={onValue}
    />
  );
}

interface Listed {
  choices: string[];
  words: string[];
  /** Second lines of the keys. */
  seconds?: string[];
}

function ChoiceField(props: Props & { field: Extract<FormField, { type: 'choice' }> }) {
  const { field, row, shop } = props;
  const { choices: from } = field;
  const listed = useLive(shop, () => choicesOf(shop, from, row), [from, row.record]);
  return (
    <Choices
      label={field.label}
      value={props.value}
      onValue={props.onValue}
      {...(listed ?? fixedChoices(from, row))}
    />
  );
}

/** Choices that are records of the book; nothing where they come from the row. */
async function choicesOf(shop: Shop, from: string, row: DefectRow): Promise<Listed | undefined> {
  if (from === 'stages') {
    const stages = await shop.book.records('stage');
    const rows = stages
      .map(({ title, date }) => ({ title: String(title ?? ''), date: String(date ?? '') }))
      .sort((a, b) => a.date.localeCompare(b.date));
    return {
      choices: rows.map(({ title }) => title),
      words: rows.map(({ title }) => title),
      seconds: rows.map(({ date }) => date),
    };
  }
  if (from === 'figures') return figureChoices(await shop.book.plain(row.record));
  if (from !== 'tablets') return undefined;
  const tablets = await shop.book.records('tablet');
  const letters = tablets
    .filter(({ lost, ended, paper }) => lost !== true && !ended && paper !== true)
    .flatMap(({ letter }) => (typeof letter === 'string' ? [letter] : []))
    .sort();
  return { choices: letters, words: letters.map((letter) => `Tablet ${letter}`) };
}

/** The lengths of a record that have a figure, with what stands. */
function figureChoices(values: Record<string, Json>): Listed {
  const held = askedFor(values).filter(({ field }) => isQuantity(values[field]));
  return {
    choices: held.map(({ field }) => field),
    words: held.map(({ label }) => label),
    seconds: held.map(({ field }) => figureText(values[field] as unknown as Quantity)),
  };
}

function fixedChoices(from: string, row: DefectRow): Listed {
  if (from === 'dispositions') return dispositionChoices(row);
  if (from === 'limits') return same(['no limit']);
  if (from === 'states') return same(row.states);
  if (from !== 'grades') return same([]);
  const grades = GRADES.filter(({ grade }) => grade !== row.grade);
  return {
    choices: grades.map(({ grade }) => String(grade)),
    words: grades.map(({ grade, word }) => `${grade} ${word}`),
  };
}

const same = (choices: readonly string[]): Listed => ({
  choices: [...choices],
  words: [...choices],
});

function Choices(props: {
  label: string;
  value: string;
  choices: readonly string[];
  words?: readonly string[];
  seconds?: readonly string[];
  onValue: (value: string) => void;
}) {
  return (
    <fieldset class="move-choices">
      <legend>{props.label}</legend>
      {props.choices.length === 0 && <p>None yet.</p>}
      {props.choices.map((choice, at) => (
        <DeskKey
          key={choice}
          label={props.words?.[at] ?? choice}
          second={props.seconds?.[at]}
          chosen={choice === props.value}
          // A second touch takes the choice back.
          onPress={() => props.onValue(choice === props.value ? '' : choice)}
        />
      ))}
    </fieldset>
  );
}

/** Dispositions this kind may have; those the grade suggests say so, none is set by itself. */
function dispositionChoices(row: DefectRow): Listed {
  const rows = dispositionsFor(row.kind, row.grade);
  const sorted = [...rows].sort((a, b) => Number(b.suggested) - Number(a.suggested));
  return {
    choices: sorted.map((one) => one.disposition),
    words: sorted.map((one) =>
      one.suggested ? `${one.disposition} (suggested)` : one.disposition,
    ),
  };
}

import { useId, useState } from 'preact/hooks';
import { dispositionsFor } from '../../domain/kinds';
import { Key, KeyRow, Question } from '../../furniture';
import type { DefectRow, Json, ScreenProps } from '../../services/shop';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { useLive } from '../live';
import type { Picture } from '../photograph/pictures';
import { AfterWork } from './after_work';
import { detailsOf } from './move_details';
import { type FormField, formOf, MOVE_WORDS } from './move_forms';

type Props = ScreenProps & {
  row: DefectRow;
  values: Record<string, Json>;
  photographs: Picture[];
};

/** The moves this person may make now as keys; what a move needs is asked in the sheet. */
export function MoveKeys(props: Props) {
  const { shop, row } = props;
  const { session } = shop;
  const [move, setMove] = useState<string | null>(null);
  const [given, setGiven] = useState<Record<string, string>>({});
  const { trouble, busy, run } = useTrouble();
  const open = useLive(shop, async () => (session ? shop.moves.open(session, row.record) : []), [
    row.record,
    session?.person,
  ]);
  if (!open || open.length === 0)
    return <p class="no-moves">Nothing for {session?.name ?? 'you'} to do on this record now.</p>;
  const make = (name: string, answers: Record<string, string>) =>
    run(async () => {
      if (!session) return;
      await shop.moves.makeMove(
        session,
        row.record,
        name,
        await detailsOf(shop, name, row, answers),
      );
      setMove(null);
      setGiven({});
    });
  const press = (name: string) => {
    setGiven({});
    if (formOf(name, row).length === 0) make(name, {});
    else setMove(name);
  };
  return (
    <section class="moves" aria-label="Moves">
      <TroubleNote trouble={trouble} />
      {move ? (
        <Question
          title={MOVE_WORDS[move] ?? move}
          text={`${row.number}, now ${row.state}`}
          keys={
            <>
              <Key
                label={`${MOVE_WORDS[move] ?? move}`}
                kind="main"
                unavailable={busy ? 'a moment …' : undefined}
                onPress={() => make(move, given)}
              />
              <Key label="Not now" onPress={() => setMove(null)} />
            </>
          }
        >
          <form
            class="move-form"
            onSubmit={(event) => {
              event.preventDefault();
              make(move, given);
            }}
          >
            {formOf(move, row).map((field) => (
              <FieldOf
                key={field.name}
                field={field}
                value={given[field.name] ?? ''}
                row={row}
                photographs={props.photographs}
                shop={shop}
                onValue={(value) => setGiven({ ...given, [field.name]: value })}
              />
            ))}
          </form>
        </Question>
      ) : (
        <KeyRow apart="desk" label="Moves open now">
          {[...new Set(open)].map((name) => (
            <Key
              key={name}
              label={MOVE_WORDS[name] ?? name}
              kind={name === 'undo' ? 'undo' : 'plain'}
              onPress={() => press(name)}
            />
          ))}
        </KeyRow>
      )}
    </section>
  );
}

function FieldOf(props: {
  field: FormField;
  value: string;
  row: DefectRow;
  photographs: Picture[];
  shop: ScreenProps['shop'];
  onValue: (value: string) => void;
}) {
  const { field, value, onValue } = props;
  const id = useId();
  if (field.type === 'choice')
    return (
      <Choices
        label={field.label}
        value={value}
        onValue={onValue}
        {...(field.choices === 'dispositions'
          ? dispositionChoices(props.row)
          : { choices: props.row.states })}
      />
    );
  if (field.type === 'photograph')
    return (
      <AfterWork {...props}>
        <Choices
          label={field.label}
          value={value}
          onValue={onValue}
          choices={props.photographs.map((one) => one.record)}
          words={props.photographs.map((one) => [one.role, one.day].filter(Boolean).join(' '))}
        />
      </AfterWork>
    );
  const onInput = (event: { currentTarget: HTMLInputElement }) =>
    onValue(event.currentTarget.value);
  return (
    <label class="why" htmlFor={id}>
      <span>{field.label}</span>
      {field.type === 'passcode' ? (
        <input
          id={id}
          type="password"
          inputMode="numeric"
          autocomplete="off"
          value={value}
          onInput={onInput}
        />
      ) : field.type === 'date' ? (
        <input id={id} type="date" value={value} onInput={onInput} />
      ) : (
        <input id={id} type="text" autocomplete="off" value={value} onInput={onInput} />
      )}
    </label>
  );
}

function Choices(props: {
  label: string;
  value: string;
  choices: readonly string[];
  words?: readonly string[];
  onValue: (value: string) => void;
}) {
  return (
    <fieldset class="move-choices">
      <legend>{props.label}</legend>
      {props.choices.length === 0 && <p>None yet.</p>}
      {props.choices.map((choice, at) => (
        <Key
          key={choice}
          label={props.words?.[at] ?? choice}
          size="small"
          letters={18}
          chosen={choice === props.value}
          onPress={() => props.onValue(choice)}
        />
      ))}
    </fieldset>
  );
}

/** Dispositions this kind may have; those the grade suggests say so, none is set by itself. */
function dispositionChoices(row: DefectRow): { choices: string[]; words: string[] } {
  const rows = dispositionsFor(row.kind, row.grade);
  return {
    choices: rows.map((one) => one.disposition),
    words: rows.map((one) => (one.suggested ? `${one.disposition} (suggested)` : one.disposition)),
  };
}

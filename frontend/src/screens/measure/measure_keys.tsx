import type { Pair } from '../../domain/pairs';
import { NumberPad } from '../../furniture';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { Instruments } from '../airframe/instruments';
import { useUndo } from '../airframe/undoing';
import { AlsoKeys } from './also_keys';
import type { Answers } from './answers';
import type { Asked } from './asked';
import { ChoiceKeys } from './choice_keys';
import { CorrectionKeys } from './correction_keys';
import { EndKeys, type Ends } from './end_keys';
import { kindsListed } from './graded';
import type { InstrumentOfDay } from './instrument';
import { KindKeys } from './kind_keys';
import { type PartOffered, partFields } from './parts';
import { RaiseKeys } from './raise_keys';
import { TagKeys } from './tag_keys';
import type { TypedPad } from './typed';
import { WrongHand } from './wrong_hand';

export interface MeasureKeysProps extends Pick<ScreenProps, 'shop' | 'go'> {
  row: DefectRow;
  answers: Answers;
  instrument: InstrumentOfDay;
  parts: readonly PartOffered[];
  unit: 'in' | 'mm';
  /** Undecided pairs this record is in. */
  pairs: readonly Pair[];
  /** The hand was said to be right. */
  hand_kept: boolean;
  onKeepHand: () => void;
  onTouchOff: () => void;
}

/** One question at a time under the thumb: kind, hand, instrument, figure or word, last keys. */
export function MeasureKeys(props: MeasureKeysProps) {
  const { shop, row, answers, instrument, parts, unit, onTouchOff } = props;
  const { values, asked, active, page, run } = answers;
  const undoing = useUndo(shop, [row], { record: row.record });
  const undo = { second: undoing.second, unavailable: undoing.unavailable };
  const onUndo = () => void run(undoing.press);
  const ends = { undo, onUndo, onTouchOff };
  const wrong = props.pairs.find((pair) => pair.query === 'wrong hand');
  const [plate] = parts;
  if (answers.correcting)
    return (
      <CorrectionKeys
        {...{ row, values }}
        set={answers.correcting}
        onReason={answers.correct}
        onKeep={() => answers.correct(null)}
      />
    );
  if (!values.kind)
    return (
      <KindKeys
        {...ends}
        kinds={kindsListed()}
        onKind={(kind) => answers.write({ kind, ...startOf(kind, plate, unit) })}
      />
    );
  if (wrong && row.state === 'Draft' && !props.hand_kept)
    return <WrongHand {...{ shop, row, run }} pair={wrong} onKeep={props.onKeepHand} />;
  if (instrument.asks(active?.field))
    return (
      <Instruments
        {...{ shop, looking: instrument.looking, onLooking: instrument.onLooking }}
        once={active?.field}
        onBack={() => undefined}
        ends={<EndKeys {...ends} />}
      />
    );
  if (page === 'also')
    return (
      <AlsoKeys
        {...{ asked, values, parts, unit, ...ends }}
        onSet={answers.write}
        onOpen={(field) => void answers.leaveFor(field)}
        onDone={() => void answers.leaveFor('raise')}
      />
    );
  if (page === 'tag')
    return (
      <TagKeys
        {...{ shop, row, ...ends }}
        on={typeof values.tag === 'string'}
        onSet={(tag) => answers.write({ tag })}
        onDone={() => void answers.leaveFor('raise')}
      />
    );
  if (!active) return <RaiseKeys {...props} {...ends} />;
  if (active.type === 'yes_no' || active.type === 'word')
    return (
      <ChoiceKeys
        {...ends}
        asked={active}
        value={values[active.field]}
        next={answers.next_words}
        onAnswer={(value) => answers.answer(active, value)}
        onNext={() => answers.skip(active)}
      />
    );
  return <Pad {...props} {...ends} />;
}

function Pad({ answers, undo, onUndo, onTouchOff, instrument }: MeasureKeysProps & Ends) {
  const { active, pad, values } = answers;
  if (!active) return null;
  const stands_none = pad.typed.value === '' && values[active.field] === 'not measured';
  return (
    <NumberPad
      value={pad.shown}
      unit={pad.typed.unit}
      hand={instrument.looking.hand}
      not_measured={pad.typed.not_measured || stands_none}
      not_measured_second={noneWords(answers, active)}
      start_second={active.field === 'depth' ? undefined : 'starts a figure'}
      units={active.gauge ? ['in', 'mm', 'SWG'] : active.type === 'quantity' ? ['in', 'mm'] : []}
      onFigure={(figure) => answers.type({ act: 'figure', figure })}
      onRubOut={() => answers.type({ act: 'rub out' })}
      onUnit={(unit) => answers.type({ act: 'unit', unit })}
      onNotMeasured={() => answers.none(active)}
      doubt_key={doubtOf(active, pad)}
      onDoubt={() => answers.type({ act: 'doubt' })}
      onNext={answers.next}
      onUndo={onUndo}
      onTouchOff={onTouchOff}
      next={answers.next_words}
      undo={undo.second}
      unavailable={undo.unavailable ? { undo: undo.unavailable } : {}}
    />
  );
}

/** What NOT MEASURED leads to: a grade that hangs on other figures stays as it is. */
function noneWords({ graded }: Answers, { field }: Asked): string | undefined {
  if (graded.grading?.known !== true || graded.none_opens(field)) return undefined;
  return 'said so, the\ngrade stays';
}

/** The key ± where a figure above nought is typed; nobody is sure of what a drawing says. */
function doubtOf({ type }: Asked, { typed, is_touched }: TypedPad) {
  if (type !== 'quantity' || !is_touched || !(Number(typed.value) > 0)) return undefined;
  const active = typed.at_doubt === true;
  const unavailable = typed.unit === 'SWG' ? 'not of a gauge\nnumber' : undefined;
  return { active, second: active ? 'back to the figure' : 'how sure it is', unavailable };
}

/** What a kind starts with: the part that lies here, its material, its figure on the drawing. */
function startOf(kind: string, plate: PartOffered | undefined, unit: 'in' | 'mm') {
  return plate && kind !== 'nil' ? partFields(plate, unit) : {};
}

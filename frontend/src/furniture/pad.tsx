import { actOfKeyboard, type PadUnit } from './figures.ts';
import { Key } from './key.tsx';
import { useKeydown } from './keyboard.ts';
import './pad.css';

export interface NumberPadProps {
  /** The value as typed, shown elsewhere on the sheet and spoken here. */
  value: string;
  unit: PadUnit;
  /** "10", "0.0" or "." as on the key. */
  onFigure: (figure: string) => void;
  onRubOut: () => void;
  onUnit: (unit: PadUnit) => void;
  onNotMeasured: () => void;
  onNext: () => void;
  onUndo: () => void;
  onTouchOff: () => void;
  /** What NEXT leads to: "cleaned". */
  next: string;
  /** What UNDO takes back: "last answer". */
  undo: string;
  not_measured?: boolean | undefined;
  not_measured_second?: string | undefined;
  /** What 0.0 starts, a depth unless said. */
  start_second?: string | undefined;
  /** Units offered, in and mm unless said; a third takes the place of "0.0". */
  units?: PadUnit[] | undefined;
  /** Reasons that make single keys unavailable. */
  unavailable?: { undo?: string; next?: string; not_measured?: string; start?: string } | undefined;
  next_label?: string | undefined;
  /** Leads from the figure to its ± and back, in the place of NOT MEASURED: where there is a figure
   * to be more or less sure of. */
  doubt_key?: { active: boolean; second: string; unavailable?: string | undefined } | undefined;
  onDoubt?: (() => void) | undefined;
  hand?: 'right' | 'left' | undefined;
}

const FIGURES = ['7', '8', '9', '4', '5', '6', '1', '2', '3'];

/** Nineteen keys: figures with 7-8-9 on top, then what else a depth gauge may need. */
export function NumberPad(props: NumberPadProps) {
  useKeyboard(props);
  return (
    <div class={`pad hand-${props.hand ?? 'right'}`} data-takes-figures>
      <output class="spoken">{spoken(props)}</output>
      {FIGURES.map((figure) => (
        <FigureKey key={figure} figure={figure} props={props} />
      ))}
      <Words props={props} />
      <Units props={props} />
      <LastRow props={props} />
    </div>
  );
}

function FigureKey({ figure, props }: { figure: string; props: NumberPadProps }) {
  const place = figure === '.' ? 'pad-point' : `pad-${figure}`;
  return (
    <Key
      label={figure}
      spoken={figure === '.' ? 'point' : undefined}
      letters={40}
      place={place}
      onPress={() => props.onFigure(figure)}
    />
  );
}

function Words({ props }: { props: NumberPadProps }) {
  return (
    <>
      <Key label="RUB OUT" second="last figure" place="pad-rub" onPress={props.onRubOut} />
      <NoneOrDoubt props={props} />
      {(props.units ?? []).length < 3 && (
        <Key
          label={startOf(props.unit)}
          letters={40}
          second={props.start_second ?? 'starts a depth'}
          place="pad-start"
          unavailable={props.unavailable?.start}
          onPress={() => props.onFigure(startOf(props.unit))}
        />
      )}
    </>
  );
}

/** Small figures begin so: hundredths of an inch, tenths of a millimetre. */
const startOf = (unit: PadUnit) => (unit === 'mm' ? '0.' : '0.0');

function NoneOrDoubt({ props }: { props: NumberPadProps }) {
  const { doubt_key: doubt, onDoubt } = props;
  if (doubt && onDoubt)
    return (
      <Key
        label="±"
        letters={40}
        spoken={`plus or minus: ${doubt.unavailable ?? doubt.second}`}
        second={doubt.second}
        place="pad-none"
        chosen={doubt.active}
        unavailable={doubt.unavailable}
        onPress={onDoubt}
      />
    );
  return (
    <Key
      label={'NOT\nMEASURED'}
      second={props.not_measured_second ?? 'grade stays\n‘at least’'}
      place="pad-none"
      chosen={props.not_measured === true}
      unavailable={props.unavailable?.not_measured}
      onPress={props.onNotMeasured}
    />
  );
}

function Units({ props }: { props: NumberPadProps }) {
  const units = props.units ?? ['in', 'mm'];
  return (
    <>
      {units.slice(0, 3).map((unit, at) => (
        <Key
          key={unit}
          label={unit}
          place={at === 2 ? 'pad-start' : `pad-unit-${at + 1}`}
          chosen={props.unit === unit}
          onPress={() => props.onUnit(unit)}
        />
      ))}
      <Key label={'TOUCH\nOFF'} second="ignore all" place="pad-touch" onPress={props.onTouchOff} />
    </>
  );
}

function LastRow({ props }: { props: NumberPadProps }) {
  return (
    <>
      <Key
        label="UNDO"
        second={props.undo}
        kind="undo"
        place="pad-undo"
        unavailable={props.unavailable?.undo}
        onPress={props.onUndo}
      />
      <FigureKey figure="0" props={props} />
      <FigureKey figure="." props={props} />
      <Key
        label={props.next_label ?? 'NEXT ►'}
        spoken={`${props.next_label ?? 'Next'}: ${props.unavailable?.next ?? props.next}`}
        second={props.next}
        kind="main"
        letters={28}
        place="pad-next"
        shortcut="Enter"
        unavailable={props.unavailable?.next}
        onPress={props.onNext}
      />
    </>
  );
}

function spoken({ value, unit, not_measured }: NumberPadProps): string {
  if (not_measured) return 'not measured';
  return value === '' ? '' : `${value} ${unit}`;
}

/** Digits, point, Backspace and Enter do what the keys do, unless a field or a key has the focus. */
function useKeyboard(props: NumberPadProps) {
  useKeydown((event) => {
    if (event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return;
    const act = actOfKeyboard(event.key);
    if (!act || isTakenElsewhere(event.target, act.act)) return;
    event.preventDefault();
    if (act.act === 'figure') props.onFigure(act.figure);
    else if (act.act === 'rub out') props.onRubOut();
    else if (act.act === 'doubt') toDoubt(props);
    else if (props.unavailable?.next === undefined) props.onNext();
  });
}

/** "+" leads to the ±, and never back: a figure follows it. */
function toDoubt({ doubt_key: doubt, onDoubt }: NumberPadProps): void {
  if (doubt && !doubt.active && doubt.unavailable === undefined) onDoubt?.();
}

function isTakenElsewhere(target: EventTarget | null, act: string): boolean {
  if (!(target instanceof Element)) return false;
  if (target.closest('input, textarea, select, [contenteditable]')) return true;
  return act === 'next' && target.closest('button, a, [role="slider"]') !== null;
}

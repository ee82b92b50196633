import { fieldOf } from '../../domain/fields';
import { Key } from '../../furniture';
import type { Undoing } from '../airframe/undoing';
import { scaleWords } from './drawn';
import type { Measuring, Shape } from './measuring';
import { nudged, onTheSpot, other, type Size, stepAfter, without } from './placing';
import { SCALE_KINDS, type ScaleKind } from './scales';

export interface Does {
  keep: () => void;
  useAs: (field: string) => void;
  strike: () => void;
  strikeScale: () => void;
  /** Withdraws what another tablet took from a scale while it was struck. */
  strikeAgain: () => void;
  /** `measured`: the length of its bar as a rule has it, mm. */
  findCard: (measured: string) => void;
  askFigures: (kind: ScaleKind) => void;
  depth: () => void;
  /** To the record itself: its kind says which figures it has. */
  toRecord: () => void;
  undo: () => void;
  back: () => void;
  touchOff: () => void;
}

export interface MeasuringKeysProps {
  measuring: Measuring;
  size: Size;
  step: number;
  onStep: (step: number) => void;
  mirrored: boolean;
  /** Figures of this kind of defect that a length may become. */
  fields: readonly string[];
  undo: Undoing;
  does: Does;
}

const SHAPES: readonly { shape: Shape; label: string; second: string }[] = [
  { shape: 'length', label: 'LENGTH', second: 'two points' },
  { shape: 'polyline', label: 'ALONG', second: 'a crack, a bend' },
  { shape: 'area', label: 'AREA', second: 'inside an outline' },
  { shape: 'diameter', label: 'DIAMETER', second: 'three of the rim' },
];
const ARROWS = { LEFT: '◄', UP: '▲', DOWN: '▼', RIGHT: '►' } as const;

/** What is measured, steps for the point placed, what a value becomes, and the way on. */
export function MeasuringKeys(props: MeasuringKeysProps) {
  const { measuring, does } = props;
  const { mode, setMode, standing } = measuring;
  const scale = standing?.scale ?? null;
  return (
    <div class="picture-keys">
      <Key
        label="SCALE"
        size="inside"
        second={
          standing?.stranded
            ? 'one struck, figures stand'
            : scale
              ? scaleWords(scale)
              : 'none set yet'
        }
        chosen={mode.at !== 'measure'}
        onPress={() => setMode({ at: 'scale' })}
      />
      {SHAPES.map(({ shape, label, second }) => (
        <Key
          key={shape}
          label={label}
          size="inside"
          second={second}
          chosen={mode.at === 'measure' && mode.shape === shape}
          unavailable={scale ? undefined : 'set a scale first'}
          onPress={() => setMode({ at: 'measure', shape })}
        />
      ))}
      <div class="measuring-row">
        {mode.at === 'scale' && standing?.stranded && <AgainKey {...props} />}
        {mode.at === 'scale' && (scale ? <StrikeKeys {...props} /> : <ScaleKeys {...props} />)}
        {mode.at !== 'scale' &&
          (isChoosing(measuring) ? <UseKeys {...props} /> : <NudgeKeys {...props} />)}
      </div>
      <div class="measuring-row">
        <ThirdRow {...props} />
      </div>
      <div class="picture-last">
        <Key label={'TOUCH\nOFF'} second="ignore all" size="inside" onPress={does.touchOff} />
        <UndoKey {...props} />
        <Key label="BACK" second="to the picture" size="inside" onPress={does.back} />
        <KeepKey {...props} />
      </div>
    </div>
  );
}

function ScaleKeys({ does, measuring }: MeasuringKeysProps) {
  return (
    <>
      {SCALE_KINDS.map((kind) => (
        <Key
          key={kind.label}
          label={kind.label}
          second={kind.second}
          size="inside"
          onPress={() => does.askFigures(kind)}
        />
      ))}
      <Key
        label={'SCALE\nCARD'}
        second="finds the printed one"
        size="inside"
        onPress={() => measuring.setMode({ at: 'figures', kind: null, typed: [] })}
      />
    </>
  );
}

function StrikeKeys({ measuring, does }: MeasuringKeysProps) {
  const { measurements = [], uses = {} } = measuring.standing ?? {};
  const figures = Object.keys(uses).length;
  const withdraws = [counted(measurements.length, 'measurement'), counted(figures, 'figure')];
  const said = withdraws.filter(Boolean).join(', ');
  return (
    <Key
      label={'STRIKE\nTHE SCALE'}
      second={said ? `withdraws ${said}` : 'nothing rests on it'}
      size="inside"
      onPress={does.strikeScale}
    />
  );
}

function AgainKey({ measuring, does }: MeasuringKeysProps) {
  const figures = counted(measuring.standing?.stranded?.figures ?? 0, 'figure');
  return (
    <Key
      label={'STRIKE\nAGAIN'}
      second={`withdraws ${figures} of a struck scale`}
      size="inside"
      onPress={does.strikeAgain}
    />
  );
}

function counted(count: number, one: string): string {
  return count > 0 ? `${count} ${one}${count === 1 ? '' : 's'}` : '';
}

/** Moves by steps what was placed by touch; under the loupe a pixel is seen. */
function NudgeKeys({ measuring, size, step, mirrored }: MeasuringKeysProps) {
  const { placing, place } = measuring;
  const none = placing.points.length > 0 ? undefined : 'touch the picture';
  // A picture seen in a mirror is shown turned: its left lies right in its own pixels.
  const left = mirrored ? step : -step;
  const moves = { LEFT: [left, 0], UP: [0, -step], DOWN: [0, step], RIGHT: [-left, 0] } as const;
  return (
    <>
      {Object.entries(moves).map(([label, [dx, dy]]) => (
        <Key
          key={label}
          label={label}
          picture={<span aria-hidden="true">{ARROWS[label as keyof typeof ARROWS]}</span>}
          second={`${step} px`}
          size="inside"
          unavailable={none}
          onPress={() => place(nudged(placing, dx, dy, size))}
        />
      ))}
      <Key
        label={'OTHER\nPOINT'}
        second={`now ${placing.at + 1} of ${placing.points.length}`}
        size="inside"
        unavailable={placing.points.length > 1 ? undefined : 'one point'}
        onPress={() => place(other(placing))}
      />
    </>
  );
}

/** What the chosen measurement becomes in the record. */
function UseKeys({ measuring, fields, does }: MeasuringKeysProps) {
  const { chosen, standing } = measuring;
  const used = chosen ? standing?.uses[chosen.record] : undefined;
  const isArea = chosen?.shape === 'area';
  return (
    <>
      {fields.length === 0 && (
        <Key
          label={'USE IT AS'}
          second="the kind comes first"
          size="inside"
          onPress={does.toRecord}
        />
      )}
      {fields.slice(0, 4).map((field) => (
        <Key
          key={field}
          label={`USE AS\n${labelOf(field)}`}
          second={used === field ? 'is it now' : 'of the record'}
          size="inside"
          chosen={used === field}
          unavailable={isArea ? 'an area is none' : undefined}
          onPress={() => does.useAs(field)}
        />
      ))}
      <Key
        label={'STRIKE\nIT OUT'}
        second={`measured ${standing?.measurements.length ?? 0}`}
        size="inside"
        unavailable={used ? `${labelOf(used).toLowerCase()} rests on it` : undefined}
        onPress={does.strike}
      />
    </>
  );
}

/** Labels that are too long for a key. */
const ON_KEYS: Readonly<Record<string, string>> = { next_hole: 'TO THE NEXT\nHOLE' };

function labelOf(field: string): string {
  return (
    ON_KEYS[field] ?? (fieldOf('defect', field)?.label ?? field).toUpperCase().replace(', ', '\n')
  );
}

function ThirdRow({ measuring, size, step, onStep, does }: MeasuringKeysProps) {
  const { mode, setMode, unit, setUnit } = measuring;
  const next = stepAfter(step, size);
  return (
    <>
      <Key
        label="STEP"
        second={`${step} px, next ${next}`}
        size="inside"
        onPress={() => onStep(next)}
      />
      {isChoosing(measuring) ? (
        <OtherFigureKey measuring={measuring} />
      ) : (
        <SpotKey measuring={measuring} />
      )}
      <Key
        label="OUTLINE"
        second="wax pencil"
        size="inside"
        chosen={mode.at === 'measure' && mode.shape === 'outline'}
        onPress={() => setMode({ at: 'measure', shape: 'outline' })}
      />
      <Key label="DEPTH" second="never: why" size="inside" onPress={does.depth} />
      <Key
        label={unit === 'in' ? 'INCHES' : 'MILLI-\nMETRES'}
        second={unit === 'in' ? 'next mm' : 'next in'}
        size="inside"
        onPress={() => setUnit(unit === 'in' ? 'mm' : 'in')}
      />
    </>
  );
}

/** Nothing is being placed, so the keys act on a measurement that stands. */
function isChoosing({ mode, placing, chosen }: Measuring): boolean {
  return mode.at === 'measure' && chosen !== null && placing.points.length === 0;
}

/** Goes round the measurements that stand: the next one is told, used or struck. */
function OtherFigureKey({ measuring }: { measuring: Measuring }) {
  const { chosen, standing, choose } = measuring;
  const all = standing?.measurements ?? [];
  const at = all.findIndex(({ record }) => record === chosen?.record);
  const next = all[(at + 1) % all.length];
  return (
    <Key
      label={'OTHER\nFIGURE'}
      second={`now ${at + 1} of ${all.length}`}
      size="inside"
      unavailable={all.length > 1 ? undefined : 'one figure'}
      onPress={() => next && choose(next.record)}
    />
  );
}

function SpotKey({ measuring }: { measuring: Measuring }) {
  const { placing, place } = measuring;
  const point = placing.points[placing.at];
  return (
    <Key
      label={'ON THE\nSPOT'}
      second={point?.fine ? 'seen in the loupe' : 'look in the loupe'}
      size="inside"
      chosen={point?.fine === true}
      unavailable={point ? undefined : 'touch the picture'}
      onPress={() => place(onTheSpot(placing))}
    />
  );
}

function UndoKey({ measuring, undo, does }: MeasuringKeysProps) {
  const { placing, place } = measuring;
  const isPlaced = placing.points.length > 0;
  return (
    <Key
      label="UNDO"
      kind="undo"
      size="inside"
      second={isPlaced ? 'the last point' : undo.second}
      unavailable={isPlaced ? undefined : undo.unavailable}
      onPress={() => (isPlaced ? place(without(placing)) : does.undo())}
    />
  );
}

function KeepKey({ measuring, does }: MeasuringKeysProps) {
  const { mode, placing, least, now } = measuring;
  const count = placing.points.length;
  const isScale = mode.at === 'points';
  const isOutline = mode.at === 'measure' && mode.shape === 'outline';
  const told = now && 'told' in now && count > 0 ? now.told.words : null;
  const label = isScale
    ? 'KEEP THE SCALE'
    : isOutline
      ? 'KEEP THE OUTLINE'
      : told
        ? `KEEP ${told}`
        : 'KEEP';
  const isReady = count >= least && least > 0 && (isScale || isOutline || told !== null);
  return (
    <Key
      label={label}
      second={isReady ? 'sorting aid, with its ±' : undefined}
      kind="main"
      size="inside"
      unavailable={isReady ? undefined : lacking(count, least)}
      onPress={does.keep}
    />
  );
}

function lacking(count: number, least: number): string {
  if (least === 0) return 'choose a scale';
  return count < least ? `touch ${least - count} more` : 'no value: read why';
}

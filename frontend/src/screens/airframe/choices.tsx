import { useState } from 'preact/hooks';
import type { Definition, Place } from '../../domain/place';
import { Key, KeyRow, NumberPad, type Typed, typedAfter } from '../../furniture';
import { placeIn } from './spot';
import type { Structure } from './window';

export type Cell = 'structure' | 'hand' | 'member' | 'strakes' | 'face';
export const HAND_WORDS: Record<string, string> = { P: 'Port', S: 'Starboard', C: 'Centreline' };

export interface ChoicesProps {
  cell: Cell;
  definition: Definition;
  structure: Structure;
  place: Place;
  onPlace: (place: Place) => void;
  onClose: () => void;
  onTouchOff: () => void;
}

/** The keys of one opened cell of the position bar. */
export function Choices(props: ChoicesProps) {
  const { cell } = props;
  if (cell === 'member') return <OffsetPad {...props} />;
  const choose = (next: Place) => {
    props.onPlace(next);
    props.onClose();
  };
  return (
    <div class="choices">
      <KeyRow label={cell}>
        {options(props).map((option) => (
          <Key
            key={option.label}
            label={option.label}
            size="inside"
            place="choice"
            chosen={option.chosen}
            onPress={() => choose(option.next)}
          />
        ))}
      </KeyRow>
      <Key label="BACK" second="to the shutter" onPress={props.onClose} />
    </div>
  );
}

interface Option {
  label: string;
  chosen: boolean;
  next: Place;
}

function options({ cell, definition, structure, place }: ChoicesProps): Option[] {
  if (cell === 'structure')
    return definition.structures.map((one) => ({
      label: one.name,
      chosen: one.name === place.structure,
      next: placeIn(definition, one.name),
    }));
  if (cell === 'hand')
    return structure.hands.map((hand) => ({
      label: HAND_WORDS[hand] ?? hand,
      chosen: hand === place.hand,
      next: { ...place, hand: hand as Place['hand'] },
    }));
  if (cell === 'face')
    return (structure.faces ?? []).map((face) => ({
      label: face,
      chosen: face === place.face,
      next: { ...place, face },
    }));
  const strakes = structure.strakes ?? [];
  return strakes.slice(0, -1).map((from, at) => {
    const to = strakes[at + 1] ?? from;
    return {
      label: `${from}–${to}`,
      chosen: place.strakes?.[0] === from,
      next: { ...place, strakes: [from, to] as [string, string] },
    };
  });
}

/** Offset aft or outboard of the member, typed. */
function OffsetPad({ place, onPlace, onClose, onTouchOff }: ChoicesProps) {
  const [typed, setTyped] = useState<Typed>({
    value: place.offset.value === '0' ? '' : place.offset.value,
    unit: place.offset.unit,
    not_measured: false,
  });
  const [fresh, setFresh] = useState(true);
  // The first figure replaces the offset that stood there.
  const act = (step: Parameters<typeof typedAfter>[1]) => {
    setTyped(typedAfter(fresh && step.act === 'figure' ? { ...typed, value: '' } : typed, step));
    setFresh(false);
  };
  const keep = () => {
    const value = typed.value === '' ? '0' : typed.value.replace(/\.$/, '');
    onPlace({ ...place, offset: { value, unit: typed.unit === 'mm' ? 'mm' : 'in' } });
    onClose();
  };
  return (
    <>
      <p class="offset-read">
        {place.member} + <strong>{typed.value || '0'}</strong> {typed.unit} aft
      </p>
      <NumberPad
        value={typed.value}
        unit={typed.unit}
        onFigure={(figure) => act({ act: 'figure', figure })}
        onRubOut={() => act({ act: 'rub out' })}
        onUnit={(unit) => act({ act: 'unit', unit })}
        onNotMeasured={() => undefined}
        onNext={keep}
        onUndo={onClose}
        onTouchOff={onTouchOff}
        next="set the place"
        next_label="SET"
        undo="as it was"
        unavailable={{ not_measured: 'a place is needed', start: 'for depths' }}
      />
    </>
  );
}

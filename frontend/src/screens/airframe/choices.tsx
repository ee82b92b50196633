import { useState } from 'preact/hooks';
import { Key, KeyRow, NumberPad, type Typed, typedAfter } from '../../furniture';
import type { Definition, Place } from '../../services/shop';
import { BAY_ONLY, bayName, wholeBay } from './whole_bay';
import type { Structure } from './window';

export type Cell = 'structure' | 'member' | 'strakes' | 'face';

export interface ChoicesProps {
  cell: Cell;
  definition: Definition;
  structure: Structure;
  place: Place;
  onPlace: (place: Place) => void;
  onStructure: (name: string) => void;
  onClose: () => void;
  onTouchOff: () => void;
}

/** The keys of one opened cell of the position bar. */
export function Choices(props: ChoicesProps) {
  const { cell } = props;
  if (cell === 'member') return <OffsetPad {...props} />;
  const choose = (pick: () => void) => {
    pick();
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
            onPress={() => choose(option.pick)}
          />
        ))}
      </KeyRow>
      <Key label="BACK" size="inside" second="to the shutter" onPress={props.onClose} />
    </div>
  );
}

interface Option {
  label: string;
  chosen: boolean;
  pick: () => void;
}

function options(props: ChoicesProps): Option[] {
  const { cell, definition, structure, place, onPlace, onStructure } = props;
  if (cell === 'structure')
    return definition.structures.map((one) => ({
      label: one.name,
      chosen: one.name === place.structure,
      pick: () => onStructure(one.name),
    }));
  if (cell === 'face')
    return (structure.faces ?? []).map((face) => ({
      label: face,
      chosen: face === place.face,
      pick: () => onPlace({ ...place, face }),
    }));
  const strakes = structure.strakes ?? [];
  return strakes.slice(0, -1).map((from, at) => {
    const to = strakes[at + 1] ?? from;
    return {
      label: `${from}–${to}`,
      chosen: place.strakes?.[0] === from,
      pick: () => onPlace({ ...place, strakes: [from, to] as [string, string] }),
    };
  });
}

/** Offset aft or outboard of the member, typed. */
function OffsetPad({ structure, place, onPlace, onClose, onTouchOff }: ChoicesProps) {
  const [typed, setTyped] = useState<Typed>({
    value: place.offset.value === '0' || place.precision === BAY_ONLY ? '' : place.offset.value,
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
    const offset = { value, unit: typed.unit === 'mm' ? 'mm' : 'in' } as const;
    onPlace({ ...place, offset, precision: 'exact' });
    onClose();
  };
  const keepBay = () => {
    onPlace(wholeBay(structure, place));
    onClose();
  };
  return (
    <>
      <p class="offset-read">
        {place.member} + <strong>{typed.value || '0'}</strong> {typed.unit} {structure.positive}
      </p>
      <NumberPad
        value={typed.value}
        unit={typed.unit}
        onFigure={(figure) => act({ act: 'figure', figure })}
        onRubOut={() => act({ act: 'rub out' })}
        onUnit={(unit) => act({ act: 'unit', unit })}
        onNotMeasured={keepBay}
        not_measured_second={`${bayName(structure, place)},\nbay only`}
        start_second="starts a figure"
        not_measured={place.precision === BAY_ONLY && typed.value === ''}
        onNext={keep}
        onUndo={onClose}
        onTouchOff={onTouchOff}
        next="set the place"
        next_label="SET"
        undo="as it was"
      />
    </>
  );
}

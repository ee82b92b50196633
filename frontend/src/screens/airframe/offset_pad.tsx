import { useState } from 'preact/hooks';
import { NumberPad, type Typed, typedAfter } from '../../furniture';
import type { Place } from '../../services/shop';

export type Offset = Place['offset'];

export interface OffsetPadProps {
  /** The member that the distance is counted from. */
  member: string;
  /** The distance that stands; null: none was said. */
  offset: Offset | null;
  unit: 'in' | 'mm';
  positive: string;
  onKeep: (offset: Offset) => void;
  /** The whole bay in place of a distance; left out where that is no answer. */
  bay?: { second: string; chosen: boolean; onKeep: () => void } | undefined;
  onClose: () => void;
  onTouchOff: () => void;
}

/** Distance aft or outboard of a member, typed. */
export function OffsetPad(props: OffsetPadProps) {
  const { offset, bay, onClose } = props;
  const [typed, setTyped] = useState<Typed>({
    value: offset === null || offset.value === '0' ? '' : offset.value,
    unit: offset?.unit ?? props.unit,
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
    props.onKeep({ value, unit: typed.unit === 'mm' ? 'mm' : 'in' });
  };
  return (
    <>
      <p class="offset-read">
        {props.member} + <strong>{typed.value || '0'}</strong> {typed.unit} {props.positive}
      </p>
      <NumberPad
        value={typed.value}
        unit={typed.unit}
        onFigure={(figure) => act({ act: 'figure', figure })}
        onRubOut={() => act({ act: 'rub out' })}
        onUnit={(unit) => act({ act: 'unit', unit })}
        onNotMeasured={() => bay?.onKeep()}
        not_measured_second={bay?.second}
        unavailable={bay ? undefined : { not_measured: 'an end is measured' }}
        start_second="starts a figure"
        not_measured={bay?.chosen === true && typed.value === ''}
        onNext={keep}
        onUndo={onClose}
        onTouchOff={props.onTouchOff}
        next="set the place"
        next_label="SET"
        undo="as it was"
      />
    </>
  );
}

import { useState } from 'preact/hooks';
import { NumberPad, typedAfter } from '../../furniture';
import type { Shop } from '../../services/shop';
import type { Undoing } from '../airframe/undoing';
import { useLive } from '../live';
import type { Does } from './keys';
import type { Measuring, Mode } from './measuring';
import { draftOf, lastBarOf, typedFigure } from './scales';

export interface FigureKeysProps {
  shop: Shop;
  measuring: Measuring;
  mode: Extract<Mode, { at: 'figures' }>;
  does: Does;
  undo: Undoing;
  hand?: 'right' | 'left' | undefined;
}

const BAR = 'Length of the 100 mm bar of the card, as a rule has it';

/** The figures of a scale, one after the other, on the pad. */
export function FigureKeys({ shop, measuring, mode, does, hand }: FigureKeysProps) {
  const { setMode, unit, setUnit } = measuring;
  const { kind, typed } = mode;
  const [value, setValue] = useState('');
  const kept = useLive(shop, async () => lastBarOf(await shop.book.records('scale')), []) ?? '';
  const shown = kind === null && value === '' ? kept : value;
  const words = kind ? (kind.asks[typed.length]?.words ?? '') : BAR;
  const type = (act: Parameters<typeof typedAfter>[1]) =>
    setValue(typedAfter({ value: shown, unit, not_measured: false }, act).value);
  const next = () => {
    if (!(Number(shown) > 0)) return;
    if (!kind) return does.findCard(shown);
    const all = [...typed, typedFigure(shown, unit)];
    setValue('');
    if (all.length < kind.asks.length) return setMode({ at: 'figures', kind, typed: all });
    setMode({ at: 'points', draft: draftOf(kind, all), touch: kind.touch });
  };
  return (
    <div class="figure-asked">
      <p class="figure-words" role="status">
        {words} <b>{`${shown || '–'} ${kind ? unit : 'mm'}`}</b>
      </p>
      <NumberPad
        value={shown}
        unit={kind ? unit : 'mm'}
        units={['in', 'mm']}
        start_second="starts a figure"
        next={kind ? 'then touch the picture' : 'finds the card'}
        undo="back to the scales"
        unavailable={{
          not_measured: 'a scale needs it',
          ...(Number(shown) > 0 ? {} : { next: 'type the figure' }),
        }}
        onFigure={(figure) => type({ act: 'figure', figure })}
        onRubOut={() => type({ act: 'rub out' })}
        onUnit={(one) => one !== 'SWG' && setUnit(one)}
        onNotMeasured={() => {}}
        onNext={next}
        onUndo={() => setMode({ at: 'scale' })}
        onTouchOff={does.touchOff}
        hand={hand}
      />
    </div>
  );
}

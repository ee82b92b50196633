import { type Step, stepBay, stepStrake } from '../../domain/place';
import { Key } from '../../furniture';
import type { DefectRow, Definition, Place } from '../../services/shop';
import { useLive } from '../live';
import { acrossWords } from './across';
import { READING } from './begun';
import { LookedAtKey, type LookedAtProps } from './looked_key';
import type { Undoing } from './undoing';
import { wholeBayOf } from './whole_bay';

export interface CaptureKeysProps extends LookedAtProps {
  setPlace: (place: Place) => void;
  undo: Undoing;
  /** The place lies outside every zone: nothing may be raised there. */
  outside: boolean;
  /** The last record of this person here. */
  last: DefectRow | null;
  /** Drafts and records that lack something. */
  to_finish: number;
  onShutter: () => void;
  onSameAgain: (row: DefectRow) => void;
  onTouchOff: () => void;
  onMore: () => void;
}

/** Keys under the thumb: shutter right, steps left, Undo apart, Touch off in the far corner. */
export function CaptureKeys(props: CaptureKeysProps) {
  const { shop, definition, structure, last, is_read } = props;
  const no_letter = !shop.device?.letter
    ? 'a desk gives no numbers'
    : props.outside
      ? 'this place is outside the airframe'
      : undefined;
  const none = is_read
    ? `nothing of yours on the ${props.place.structure.toLowerCase()} yet`
    : READING;
  const number = useLive(shop, () => shop.capture.nextNumber(), []);
  const along = structure.positive === 'aft' ? ['FWD', 'AFT'] : ['INBD', 'OUTBD'];
  const across = acrossWords(structure, props.place);
  return (
    <div class="capture-keys">
      <StepKey
        {...props}
        label={along[0] ?? ''}
        place_name="fwd"
        step={(from) => stepWhole(definition, from, -1)}
      />
      <StepKey
        {...props}
        label={along[1] ?? ''}
        place_name="aft"
        step={(from) => stepWhole(definition, from, 1)}
      />
      <StepKey
        {...props}
        label={across[0]}
        place_name="keel"
        step={(from) => stepStrake(definition, from, -1)}
      />
      <StepKey
        {...props}
        label={across[1]}
        place_name="chine"
        step={(from) => stepStrake(definition, from, 1)}
      />
      <Key
        label={'SAME\nAGAIN'}
        size="inside"
        place="k-same"
        second={last ? `as ${last.number},\none bay ${structure.positive}` : undefined}
        unavailable={no_letter ?? (last ? undefined : none)}
        onPress={() => last && props.onSameAgain(last)}
      />
      <Key
        label="SHUTTER"
        kind="main"
        letters={40}
        place="k-shutter"
        second={number ? `stores ${number}, opens camera` : 'stores the number, opens camera'}
        unavailable={no_letter}
        onPress={props.onShutter}
      />
      <div class="capture-last">
        <Key label={'TOUCH\nOFF'} second="ignore all" size="inside" onPress={props.onTouchOff} />
        <Key
          label="UNDO"
          kind="undo"
          size="inside"
          place="k-undo"
          second={props.undo.second}
          unavailable={props.undo.unavailable}
          onPress={() => props.run(props.undo.press)}
        />
        <Key
          label="MORE"
          size="inside"
          place="k-more"
          second={is_read ? `${props.to_finish} to finish` : READING}
          onPress={props.onMore}
        />
        <LookedAtKey {...props} />
      </div>
    </div>
  );
}

/** A step along leads to a bay; how far aft in it nobody has said yet. */
function stepWhole(definition: Definition, from: Place, step: 1 | -1): Step {
  const { place, reason } = stepBay(definition, from, step);
  return { place: place && wholeBayOf(definition, place), reason };
}

/** One bay or one strake further; where there is none the key says why. */
function StepKey(
  props: CaptureKeysProps & { label: string; place_name: string; step: (place: Place) => Step },
) {
  const { place: next, reason } = props.step(props.place);
  return (
    <Key
      label={props.label}
      second={next ? stepWords(props, next) : undefined}
      size="inside"
      place={`k-${props.place_name}`}
      unavailable={next ? undefined : reason}
      onPress={() => next && props.setPlace(next)}
    />
  );
}

/** What a step leads to: the strakes where the member stays, else the bay. */
function stepWords({ structure, place }: CaptureKeysProps, to: Place): string {
  if (to.strakes && to.member === place.member) return to.strakes.join('–');
  const { members } = structure;
  const next = members[members.findIndex((one) => one.name === to.member) + 1];
  return next ? `${to.member}–${next.name}` : to.member;
}

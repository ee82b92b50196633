import { type Step, stepBay, stepStrake } from '../../domain/place';
import { Key } from '../../furniture';
import type { DefectRow, Definition, Place, Shop } from '../../services/shop';
import { useLive } from '../live';
import { type Bay, bayOf, bayWords, cellValue, openIn } from './bay';
import type { Looking } from './looking';
import { lastOf } from './same_again';
import type { Structure } from './window';

export interface CaptureKeysProps {
  shop: Shop;
  definition: Definition;
  structure: Structure;
  place: Place;
  setPlace: (place: Place) => void;
  undoPlace: (() => void) | null;
  /** The place lies outside every zone: nothing may be raised there. */
  outside: boolean;
  defects: DefectRow[];
  looking: Looking;
  onShutter: () => void;
  onSameAgain: (row: DefectRow) => void;
  onTouchOff: () => void;
  run: (work: () => Promise<void>) => void;
}

/** Keys under the thumb: shutter right, steps left, Undo apart, Touch off in the far corner. */
export function CaptureKeys(props: CaptureKeysProps) {
  const { shop, definition } = props;
  const no_letter = !shop.device?.letter
    ? 'a desk gives no numbers'
    : props.outside
      ? 'this place is outside the airframe'
      : undefined;
  const last = lastOf(props.defects, shop.session?.person);
  return (
    <div class="capture-keys">
      <StepKey
        {...props}
        label="FWD"
        place_name="fwd"
        step={(from) => stepBay(definition, from, -1)}
      />
      <StepKey
        {...props}
        label="AFT"
        place_name="aft"
        step={(from) => stepBay(definition, from, 1)}
      />
      <StepKey
        {...props}
        label="TO KEEL"
        place_name="keel"
        step={(from) => stepStrake(definition, from, -1)}
      />
      <StepKey
        {...props}
        label="TO CHINE"
        place_name="chine"
        step={(from) => stepStrake(definition, from, 1)}
      />
      <Key
        label={'SAME\nAGAIN'}
        size="inside"
        place="k-same"
        second={last ? `as ${last.number},\none bay aft` : undefined}
        unavailable={no_letter ?? (last ? undefined : 'nothing raised yet')}
        onPress={() => last && props.onSameAgain(last)}
      />
      <Key
        label="SHUTTER"
        kind="main"
        letters={40}
        place="k-shutter"
        second="stores the number, then opens the camera"
        unavailable={no_letter}
        onPress={props.onShutter}
      />
      <Key
        label={'TOUCH\nOFF'}
        second="ignore all"
        size="inside"
        place="k-touch"
        onPress={props.onTouchOff}
      />
      <UndoKey {...props} />
      <LookedAtKey {...props} />
    </div>
  );
}

/** One bay or one strake further; where there is none the key says why. */
function StepKey(
  props: CaptureKeysProps & { label: string; place_name: string; step: (place: Place) => Step },
) {
  const { place: next, reason } = props.step(props.place);
  return (
    <Key
      label={props.label}
      second={next ? stepWords(props.definition, props.place, next) : undefined}
      size="inside"
      place={`k-${props.place_name}`}
      unavailable={next ? undefined : reason}
      onPress={() => next && props.setPlace(next)}
    />
  );
}

/** What a step leads to: the strakes where the member stays, else the bay. */
function stepWords(definition: Definition, from: Place, to: Place): string {
  if (to.strakes && to.member === from.member) return to.strakes.join('–');
  const members = definition.structures.find((one) => one.name === to.structure)?.members ?? [];
  const next = members[members.findIndex((one) => one.name === to.member) + 1];
  return next ? `${to.member}–${next.name}` : to.member;
}

/** Takes back the last change of place, else this person's last act on the draft made last. */
function UndoKey({ shop, defects, run, undoPlace }: CaptureKeysProps) {
  const { session } = shop;
  const mine = defects
    .filter((row) => row.state === 'Draft' && (!row.raised_by || row.raised_by === session?.person))
    .sort((one, other) => (one.number ?? '').localeCompare(other.number ?? ''))
    .at(-1);
  const can = useLive(
    shop,
    async () =>
      session && mine ? (await shop.capture.undoable(session, mine.record)).steps > 0 : false,
    [mine?.record],
  );
  if (undoPlace)
    return (
      <Key
        label="UNDO"
        kind="undo"
        size="inside"
        place="k-undo"
        second="last place"
        onPress={undoPlace}
      />
    );
  return (
    <Key
      label="UNDO"
      kind="undo"
      size="inside"
      place="k-undo"
      second={mine ? `last on ${mine.number}` : undefined}
      unavailable={can ? undefined : 'nothing to undo'}
      onPress={() =>
        run(async () => {
          if (session && mine) await shop.capture.undo(session, mine.record);
        })
      }
    />
  );
}

/** The whole bay looked at; in a bay with open records it says that they stay open. */
function LookedAtKey(props: CaptureKeysProps) {
  const { shop, structure, place, looking, defects, definition, run } = props;
  const bay = bayOf(structure, place);
  const open = bay ? openIn(bay, defects, definition) : [];
  const write = (cell: Bay) =>
    run(async () => {
      if (!shop.session) return;
      await shop.capture.lookedAt(shop.session, {
        cell: cellValue(cell),
        looked_at: true,
        method: looking.method,
        paint: looking.paint,
        ...(looking.survey ? { survey: looking.survey } : {}),
      });
    });
  return (
    <Key
      label={open.length > 0 ? 'LOOKED AT –\nNOTHING MORE FOUND' : 'LOOKED AT –\nNOTHING FOUND'}
      size="inside"
      place="k-looked"
      letters={24}
      second={bay ? lookedWords(bay, looking, open) : undefined}
      unavailable={bay ? undefined : 'no bay aft of here'}
      onPress={() => bay && write(bay)}
    />
  );
}

function lookedWords(bay: Bay, looking: Looking, open: DefectRow[]): string {
  const how = `${bayWords(bay)}, ${looking.method}, paint ${looking.paint}`;
  if (open.length === 0) return how;
  const numbers = open.map((row) => row.number).slice(0, 3);
  const rest = open.length > 3 ? ` and ${open.length - 3} more` : '';
  return `${how},\n${numbers.join(', ')}${rest} ${open.length === 1 ? 'stays' : 'stay'} open`;
}

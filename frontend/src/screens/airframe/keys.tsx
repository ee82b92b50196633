import { type Step, stepBay, stepStrake } from '../../domain/place';
import { Key } from '../../furniture';
import type { DefectRow, Definition, Place, ScreenProps, Shop } from '../../services/shop';
import { SendKey } from '../frame/send_key';
import { useLive } from '../live';

interface CaptureKeysProps {
  shop: Shop;
  definition: Definition;
  place: Place;
  setPlace: (place: Place) => void;
  go: ScreenProps['go'];
  defects: DefectRow[];
  mirrored: boolean;
  onMirrored: () => void;
  onShutter: () => void;
  onTouchOff: () => void;
  run: (work: () => Promise<void>) => void;
}

/** Keys under the thumb: shutter right, steps left, Undo apart, Touch off in the far corner. */
export function CaptureKeys(props: CaptureKeysProps) {
  const { shop, mirrored } = props;
  const no_letter = shop.device?.letter ? undefined : 'a desk gives no numbers';
  return (
    <div class="capture-keys">
      <StepKey
        {...props}
        label="FWD"
        place_name="fwd"
        step={(place) => stepBay(props.definition, place, -1)}
      />
      <StepKey
        {...props}
        label="AFT"
        place_name="aft"
        step={(place) => stepBay(props.definition, place, 1)}
      />
      <StepKey
        {...props}
        label="TO KEEL"
        place_name="keel"
        step={(place) => stepStrake(props.definition, place, -1)}
      />
      <StepKey
        {...props}
        label="TO CHINE"
        place_name="chine"
        step={(place) => stepStrake(props.definition, place, 1)}
      />
      <Key
        label={'SEEN IN\nA MIRROR'}
        second="next picture"
        size="inside"
        place="k-mirror"
        letters={18}
        chosen={mirrored}
        onPress={props.onMirrored}
      />
      <SendKey shop={shop} size="inside" place="k-send" />
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
      <StillToFinish {...props} />
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

/** Takes back this person's last act on the record raised last here. */
function UndoKey({ shop, defects, run }: CaptureKeysProps) {
  const { session } = shop;
  const mine = lastDraft(defects, session?.person);
  const can = useLive(
    shop,
    async () => (session && mine ? shop.capture.canUndo(session, mine.record) : false),
    [mine?.record],
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

/** Drafts of this person: the next one to go on with. */
function StillToFinish({ shop, defects, go }: CaptureKeysProps) {
  const drafts = defects.filter((row) => row.state === 'Draft');
  const mine = lastDraft(defects, shop.session?.person);
  const count = drafts.length;
  return (
    <Key
      label={'STILL TO\nFINISH'}
      size="inside"
      place="k-finish"
      letters={24}
      second={mine ? `${mine.number} next, ${count} in all` : undefined}
      unavailable={mine ? undefined : 'no draft on this tablet'}
      onPress={() => mine && go(`/airframe/${(mine.number ?? '').replace('/', '')}`)}
    />
  );
}

function lastDraft(defects: DefectRow[], person: string | undefined): DefectRow | undefined {
  return defects
    .filter((row) => row.state === 'Draft' && (!row.raised_by || row.raised_by === person))
    .sort((one, other) => (one.number ?? '').localeCompare(other.number ?? ''))
    .at(-1);
}

import { useState } from 'preact/hooks';
import { placeWords, stepBay } from '../../domain/place';
import { readPlace } from '../../domain/place_typed';
import { announce, Key } from '../../furniture';
import type { Definition, Place, Shop } from '../../services/shop';
import { type Trouble, TroubleNote } from '../frame/trouble';
import { troubleOf } from '../frame/words';
import { useLive } from '../live';
import { pitchHere, stepHole } from './hole_step';
import { OffAircraft } from './off_aircraft';
import { type Offset, OffsetPad } from './offset_pad';
import { BAY_ONLY, baySpan, wholeBay } from './whole_bay';
import type { Structure } from './window';
import './place_in_full.css';

export interface PlaceInFullProps {
  shop: Shop;
  definition: Definition;
  structure: Structure;
  place: Place;
  onPlace: (place: Place) => void;
  onClose: () => void;
  /** Back to the shutter. */
  onDone: () => void;
  onTouchOff: () => void;
  /** Gives a number to a record of this place and opens the camera. */
  onShoot: (place: Place) => void;
}

/** Sheets of a stack that a rivet may hold together, from the outer one. */
const MOST_SHEETS = 5;

/** Everything a place may say: typed in trade notation, from one end to another, hole by hole. */
export function PlaceInFull(props: PlaceInFullProps) {
  const { definition, structure, place, onPlace } = props;
  const [part, setPart] = useState<'all' | 'end' | 'off'>('all');
  const back = () => setPart('all');
  if (part === 'off')
    return <OffAircraft definition={definition} onShoot={props.onShoot} onBack={back} />;
  if (part === 'end' && place.to)
    return (
      <OffsetPad
        member={`to ${place.to.member}`}
        offset={(place.to.offset as Offset | undefined) ?? null}
        unit={place.offset.unit}
        positive={structure.positive}
        onKeep={(offset) => {
          onPlace({ ...place, to: { member: place.to?.member ?? '', offset } });
          back();
        }}
        onClose={back}
        onTouchOff={props.onTouchOff}
      />
    );
  return (
    <div class="place-in-full">
      <output class="place-read">{placeWords(definition, place)}</output>
      <Typed key={structure.name} {...props} />
      <div class="place-keys">
        <HoleKeys {...props} />
        <EndKeys {...props} onPad={() => setPart('end')} />
        <Key
          label="BAY ONLY"
          size="inside"
          second={bayDoubt(structure, place)}
          chosen={place.precision === BAY_ONLY}
          onPress={() => onPlace(wholeBay(structure, place))}
        />
        <SheetKey {...props} />
        <Key
          label={'OFF THE\nAIRCRAFT'}
          size="inside"
          unavailable={definition.off_aircraft?.length ? undefined : 'no such place set up'}
          onPress={() => setPart('off')}
        />
        <Key label="BACK" size="inside" second="to the distance" onPress={props.onClose} />
        <Key
          label="DONE"
          kind="main"
          place="place-shutter"
          second="to the shutter"
          onPress={props.onDone}
        />
      </div>
    </div>
  );
}

/** The place as people write it; what can't be read is said and changes nothing. */
function Typed({ definition, structure, place, onPlace }: PlaceInFullProps) {
  const [text, setText] = useState('');
  const [trouble, setTrouble] = useState<Trouble | null>(null);
  const set = () => {
    try {
      onPlace(completed(readPlace(definition, text, place), place));
      announce('The place is set.');
      setText('');
      setTrouble(null);
    } catch (error) {
      setTrouble(troubleOf(error));
    }
  };
  return (
    <>
      <label class="place-typed">
        Typed, such as {example(structure)}
        <input
          type="text"
          autocomplete="off"
          autocapitalize="characters"
          value={text}
          onInput={(event) => setText(event.currentTarget.value)}
          onKeyDown={(event) => event.key === 'Enter' && text.trim() && set()}
        />
        <Key
          label="SET"
          size="desk"
          unavailable={text.trim() ? undefined : 'nothing typed'}
          onPress={set}
        />
      </label>
      <TroubleNote trouble={trouble} />
    </>
  );
}

/** What was not typed stays as it was, on the same structure. */
function completed(typed: Place, { structure, strakes, face, layer }: Place): Place {
  if (typed.structure !== structure) return typed;
  const stands = { ...(strakes && { strakes }), ...(face && { face }), ...(layer && { layer }) };
  return { ...stands, ...typed };
}

/** "F2 + 2.0 to F3 · K–B1 · inner face", in the names of the structure. */
function example({ members, strakes, faces }: Structure): string {
  const [, from, to] = members.map((member) => member.name);
  const along = to ? `${from} + 2.0 to ${to}` : `${members[0]?.name} + 2.0`;
  const face = faces?.[0] ? `${faces[0]} face` : '';
  return [along, strakes.slice(0, 2).join('–'), face].filter(Boolean).join(' · ');
}

/** Which sheet of the stack it is in, the next one by each touch. */
function SheetKey({ place, onPlace }: PlaceInFullProps) {
  const { layer, ...without } = place;
  const next = (layer ?? 0) + 1;
  return (
    <Key
      label={layer ? `SHEET ${layer}` : 'SHEET'}
      size="inside"
      second={layer ? `from outside,\nnext ${next > MOST_SHEETS ? 'none' : next}` : 'not said'}
      chosen={layer !== undefined}
      onPress={() => onPlace(next > MOST_SHEETS ? without : { ...place, layer: next })}
    />
  );
}

/** One hole on or back, by the pitch of the nearest rivet line. */
function HoleKeys({ shop, definition, structure, place, onPlace }: PlaceInFullProps) {
  const lines = useLive(shop, () => shop.book.records('rivet_line'), []);
  const rows = useLive(shop, () => shop.book.defects(), []);
  const here = (rows ?? []).filter((row) => row.structure === structure.name && row.station);
  const stations = new Map(here.map((row) => [row.record, Number(row.station)]));
  const [at] = baySpan(structure, place.member) ?? [0];
  const pitch = pitchHere(lines ?? [], stations, at + Number(place.offset.value));
  const words = pitch ? `${pitch.value} ${pitch.unit}, as ${pitch.line}` : '';
  const [back, on] = structure.positive === 'aft' ? ['FWD', 'AFT'] : ['INBD', 'OUTBD'];
  return (
    <>
      {([-1, 1] as const).map((step) => {
        const next = pitch && stepHole(definition, place, pitch, step);
        return (
          <Key
            key={step}
            label={`ONE HOLE\n${step < 0 ? back : on}`}
            size="inside"
            second={next ? words : undefined}
            unavailable={
              next ? undefined : pitch ? 'no member beyond' : 'no rivet line gives a pitch'
            }
            onPress={() => next && onPlace(next)}
          />
        );
      })}
    </>
  );
}

/** The other end of a place that is longer than a spot. */
function EndKeys(props: PlaceInFullProps & { onPad: () => void }) {
  const { definition, place, onPlace } = props;
  const { to, ...from } = place;
  const far = to ? { ...place, member: to.member } : place;
  const next = stepBay(definition, far, 1);
  const member = next.place?.member;
  return (
    <>
      <Key
        label={to ? 'END ONE\nBAY ON' : 'TO THE\nNEXT BAY'}
        size="inside"
        second={member ? `ends at ${member}` : undefined}
        unavailable={member ? undefined : next.reason}
        onPress={() => member && onPlace({ ...place, to: { member }, precision: 'exact' })}
      />
      <Key
        label={'END,\nHOW FAR'}
        size="inside"
        second={to ? `from ${to.member}` : undefined}
        unavailable={to ? undefined : 'one spot, no end'}
        onPress={props.onPad}
      />
      <Key
        label="ONE SPOT"
        size="inside"
        second="no other end"
        chosen={!to}
        onPress={() => onPlace(from)}
      />
    </>
  );
}

/** "± 6.0 in": half of the bay. */
function bayDoubt(structure: Structure, place: Place): string | undefined {
  const span = baySpan(structure, place.member);
  if (!span) return undefined;
  const half = Number(((span[1] - span[0]) / 2).toFixed(3));
  return `± ${half} ${place.offset.unit}`;
}

import { useState } from 'preact/hooks';
import { isOff, placeWords } from '../../domain/place';
import { Key, KeyRow } from '../../furniture';
import type { Definition, Place } from '../../services/shop';

/** A part on a bench: where it lies, what it is, how it is marked; then the shutter. */
export function OffAircraft(props: {
  definition: Definition;
  onShoot: (place: Place) => void;
  onBack: () => void;
}) {
  const { definition, onShoot, onBack } = props;
  const benches = definition.off_aircraft ?? [];
  const [off, setOff] = useState(benches[0]?.name ?? '');
  const [part, setPart] = useState('');
  const [marking, setMarking] = useState('');
  const place = offPlace(off, part.trim(), marking.trim());
  return (
    <div class="place-in-full">
      <output class="place-read">{isOff(place) ? placeWords(definition, place) : ''}</output>
      <KeyRow label="Where the part lies">
        {benches.map(({ name }) => (
          <Key
            key={name}
            label={name}
            size="desk"
            place="choice"
            chosen={name === off}
            onPress={() => setOff(name)}
          />
        ))}
      </KeyRow>
      <Words label="Part, such as strut, port" value={part} onWords={setPart} />
      <Words label="Marked on it, if anything" value={marking} onWords={setMarking} />
      <div class="place-keys">
        <Key label="BACK" size="inside" second="to the place" onPress={onBack} />
        <Key
          label="SHUTTER"
          kind="main"
          place="place-shutter"
          second="stores the number, opens camera"
          unavailable={part.trim() ? undefined : 'say which part'}
          onPress={() => onShoot(place)}
        />
      </div>
    </div>
  );
}

function Words(props: { label: string; value: string; onWords: (words: string) => void }) {
  return (
    <label class="place-typed whole">
      {props.label}
      <input
        type="text"
        autocomplete="off"
        value={props.value}
        onInput={(event) => props.onWords(event.currentTarget.value)}
      />
    </label>
  );
}

/** Off the aircraft there is neither structure nor member, whatever the type of a place says. */
function offPlace(off: string, part: string, marking: string): Place {
  return { off, part, ...(marking ? { marking } : {}), precision: 'bay only' } as unknown as Place;
}

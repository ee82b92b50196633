import { useState } from 'preact/hooks';
import { Key, KeyRow, Loading } from '../../furniture';
import type { Definition, Place, Shop } from '../../services/shop';
import { useFetched } from '../frame/fetched';
import { OffsetPad } from './offset_pad';
import { BAY_ONLY, bayName, wholeBay } from './whole_bay';
import type { Structure } from './window';

export type Cell = 'structure' | 'member' | 'strakes' | 'face';

export interface ChoicesProps {
  shop: Shop;
  cell: Cell;
  definition: Definition;
  structure: Structure;
  place: Place;
  onPlace: (place: Place) => void;
  onStructure: (name: string) => void;
  onClose: () => void;
  onTouchOff: () => void;
  /** Gives a number to a record of another place, and opens the camera. */
  onShoot: (place: Place) => void;
}

/** The keys of one opened cell of the position bar. */
export function Choices(props: ChoicesProps) {
  const { cell } = props;
  if (cell === 'member') return <Along {...props} />;
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

/** How far aft or outboard of the member, or the bay alone; the rest of a place stands behind a key. */
function Along(props: ChoicesProps) {
  const { structure, place, onPlace, onClose } = props;
  const [in_full, setInFull] = useState(false);
  if (in_full) return <InFull {...props} onClose={() => setInFull(false)} onDone={onClose} />;
  const set = (to: Place) => {
    onPlace(to);
    onClose();
  };
  return (
    <>
      <div class="place-more">
        <Key
          label="PLACE IN FULL"
          second="typed, to, sheet, hole by hole"
          onPress={() => setInFull(true)}
        />
      </div>
      <OffsetPad
        member={place.member}
        offset={place.precision === BAY_ONLY ? null : place.offset}
        unit={place.offset.unit}
        positive={structure.positive}
        onKeep={(offset) => set({ ...place, offset, precision: 'exact' })}
        bay={{
          second: `${bayName(structure, place)},\nbay only`,
          chosen: place.precision === BAY_ONLY,
          onKeep: () => set(wholeBay(structure, place)),
        }}
        onClose={onClose}
        onTouchOff={props.onTouchOff}
      />
    </>
  );
}

/** The page of the whole place, fetched when it is asked for. */
function InFull(props: ChoicesProps & { onDone: () => void }) {
  const Page = useFetched(() => import('./place_in_full').then((file) => file.PlaceInFull));
  return Page ? <Page {...props} /> : <Loading what="The place in full" />;
}

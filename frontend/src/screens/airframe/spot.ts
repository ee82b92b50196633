import { useEffect, useState } from 'preact/hooks';
import type { Definition, Place } from '../../domain/place';
import type { Shop } from '../../services/shop';

export interface SpotKept {
  place: Place | null;
  setPlace: (place: Place) => void;
  /** Goes back to the place before the last change; null where nothing was changed. */
  undo: (() => void) | null;
}

/** Where the person is: the last place on this tablet, kept at every change, each undone in turn. */
export function useSpot(shop: Shop): SpotKept {
  const [places, setPlaces] = useState<Place[]>([]);
  const { definition, session } = shop;
  useEffect(() => {
    if (!definition || !session) return;
    shop.places.place(session).then(
      (last) => setPlaces([isHere(definition, last) ? last : firstPlace(definition)]),
      () => setPlaces([firstPlace(definition)]),
    );
  }, [shop, definition, session?.person]);
  const keep = (next: Place[]) => {
    setPlaces(next);
    const last = next.at(-1);
    if (session && last) void shop.places.keepPlace(session, last);
  };
  return {
    place: places.at(-1) ?? null,
    setPlace: (place) => keep([...places.slice(-MOST_STEPS), place]),
    undo: places.length > 1 ? () => keep(places.slice(0, -1)) : null,
  };
}

const MOST_STEPS = 20;

/** First bay of the first structure: what a new tablet starts at. */
export function firstPlace(definition: Definition): Place {
  return placeIn(definition, definition.structures[0]?.name ?? '');
}

/** First bay of a structure. */
export function placeIn(definition: Definition, name: string): Place {
  const structure = definition.structures.find((one) => one.name === name);
  const strakes = structure?.strakes ?? [];
  const place: Place = {
    structure: name,
    hand: (structure?.hands[0] ?? 'C') as Place['hand'],
    member: structure?.members[0]?.name ?? '',
    offset: { value: '0', unit: definition.unit as 'in' | 'mm' },
    precision: 'exact',
  };
  if (strakes.length > 1) place.strakes = [strakes[0] ?? '', strakes[1] ?? ''];
  const face = structure?.faces?.[0];
  return face === undefined ? place : { ...place, face };
}

function isHere(definition: Definition, place: Place | null): place is Place {
  const structure = definition.structures.find((one) => one.name === place?.structure);
  return structure?.members.some((member) => member.name === place?.member) ?? false;
}

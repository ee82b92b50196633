import { useEffect, useState } from 'preact/hooks';
import type { Definition, Place } from '../../domain/place';
import type { Shop } from '../../services/shop';

/** Where the person is: the last place on this tablet, kept at every change. */
export function useSpot(shop: Shop): [Place | null, (place: Place) => void] {
  const [place, setPlace] = useState<Place | null>(null);
  const { definition, session } = shop;
  useEffect(() => {
    if (!definition || !session) return;
    shop.places.place(session).then(
      (last) => setPlace(isHere(definition, last) ? last : firstPlace(definition)),
      () => setPlace(firstPlace(definition)),
    );
  }, [shop, definition, session?.person]);
  const keep = (next: Place) => {
    setPlace(next);
    if (session) void shop.places.keepPlace(session, next);
  };
  return [place, keep];
}

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

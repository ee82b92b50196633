import { useEffect, useRef, useState } from 'preact/hooks';
import type { Definition, Place, Structure } from '../../domain/place';
import { nearestEnd } from '../../domain/place_stations';
import type { Json, Shop } from '../../services/shop';
import { afterPaint } from '../frame/after_paint';
import { BAY_ONLY, wholeBayOf } from './whole_bay';

export interface SpotKept {
  place: Place | null;
  setPlace: (place: Place) => void;
  /** Goes to where this tablet was last in a structure. */
  goTo: (structure: string) => void;
  /** Goes back to the place before the last change. */
  undo: () => void;
  /** When each change was made that can be undone, ms of the corrected clock, oldest first. */
  changes: number[];
}

interface Step {
  place: Place;
  at_ms: number;
}

const MOST_STEPS = 20;
const NAME = 'spot';

/** Where the person is: kept at every change, each undone in turn, a restart or not. */
export function useSpot(shop: Shop): SpotKept {
  const [steps, setSteps] = useState<Step[]>([]);
  // Keys may come faster than the screen is drawn: each starts from the last, not from what is shown.
  const last = useRef<Step[]>(steps);
  const { definition, session } = shop;
  const show = (next: Step[]) => {
    last.current = next;
    setSteps(next);
  };
  useEffect(() => {
    if (!definition || !session) return;
    readSteps(shop, definition).then(show, () =>
      show([{ place: firstPlace(definition), at_ms: 0 }]),
    );
  }, [shop, definition, session?.person]);
  const keep = (next: Step[]) => {
    show(next);
    const at = next.at(-1);
    if (!session || !at) return;
    afterPaint(() => {
      void shop.places.keepPlace(session, at.place);
      void shop.drafts.write(session, NAME, next as unknown as Json);
    });
  };
  const setPlace = (place: Place) =>
    keep([...last.current.slice(-MOST_STEPS), { place, at_ms: shop.now() }]);
  return {
    place: steps.at(-1)?.place ?? null,
    setPlace,
    goTo: (structure) => {
      if (!definition) return;
      shop.places.placeIn(structure).then(
        (kept) => setPlace(placeHere(definition, kept) ?? placeIn(definition, structure)),
        () => setPlace(placeIn(definition, structure)),
      );
    },
    undo: () => {
      if (last.current.length > 1) keep(last.current.slice(0, -1));
    },
    changes: steps.slice(1).map((step) => step.at_ms),
  };
}

async function readSteps(shop: Shop, definition: Definition): Promise<Step[]> {
  const { session } = shop;
  if (!session) return [];
  const [kept, place] = await Promise.all([
    shop.drafts.read(session, NAME),
    shop.places.place(session),
  ]);
  const steps = (Array.isArray(kept) ? (kept as unknown as Step[]) : []).flatMap((step) => {
    const here = placeHere(definition, step?.place ?? null);
    return here ? [{ ...step, place: here }] : [];
  });
  if (steps.length > 0) return steps;
  return [{ place: placeHere(definition, place) ?? firstPlace(definition), at_ms: 0 }];
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
  return wholeBayOf(definition, face === undefined ? place : { ...place, face });
}

/** A place kept earlier, by the members of this issue of the definition: in the bay that it lies in
now. Null where it names what this issue has no more, or its bay is gone. */
export function placeHere(definition: Definition, place: Place | null): Place | null {
  const structure = definition.structures.find((one) => one.name === place?.structure);
  if (!place || !structure || !isOn(structure as Structure, place)) return null;
  try {
    const here = { ...place, ...nearestEnd(structure as Structure, place) };
    if (here.precision !== BAY_ONLY) return here;
    const bay = wholeBayOf(definition, here);
    return bay.precision === BAY_ONLY ? bay : null;
  } catch {
    return null;
  }
}

/** Whether a structure has all that a place names. */
function isOn(structure: Structure, { member, to, hand, strakes, face }: Place): boolean {
  const members = structure.members.map(({ name }) => name);
  const { hands, faces = [] } = structure;
  return (
    members.includes(member) &&
    (!to || members.includes(to.member)) &&
    (hand === 'C' || hands.includes(hand)) &&
    (strakes ?? []).every((one) => structure.strakes.includes(one)) &&
    (face === undefined || faces.includes(face))
  );
}

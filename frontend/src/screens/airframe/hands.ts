import { type Definition, isOff, type Place } from '../../domain/place';

type Hand = Place['hand'];
export const HAND_WORDS: Record<string, string> = { P: 'Port', S: 'Starboard', C: 'Centreline' };
/** As it stands on a narrow cell or row: never one letter. */
export const HAND_SHORT: Record<string, string> = { P: 'Port', S: 'Stbd', C: 'Centre' };

const TURNED: Readonly<Record<string, string>> = {
  port: 'starboard',
  starboard: 'port',
  left: 'right',
  right: 'left',
};
const SIDE = /\b(port|starboard|left|right)\b/i;

/** The same place on the other hand, or on the wing of the other side; null at the centreline. */
export function opposite(definition: Definition, place: Place): Place | null {
  // A part on a bench has neither structure nor hand.
  if (place.hand === 'C' || isOff(place)) return null;
  const hand: Hand = place.hand === 'P' ? 'S' : 'P';
  const structure = definition.structures.find((one) => one.name === place.structure);
  if (structure?.hands.includes(hand)) return { ...place, hand };
  const name = place.structure.replace(SIDE, (side) => likeCase(TURNED[side.toLowerCase()], side));
  const other = definition.structures.find((one) => one.name === name && one.hands.includes(hand));
  const there = other?.members.some((member) => member.name === place.member);
  return other && there && name !== place.structure
    ? { ...place, hand, structure: other.name }
    : null;
}

function likeCase(word = '', like = ''): string {
  const isTitle = like.charAt(0) === like.charAt(0).toUpperCase();
  return isTitle ? word.charAt(0).toUpperCase() + word.slice(1) : word;
}

/** What one touch on the hand leads to: port, starboard, centreline in turn. */
export function nextHand(definition: Definition, place: Place): Place | null {
  const structure = definition.structures.find((one) => one.name === place.structure);
  const hands = structure?.hands ?? [];
  if (hands.length < 2) return opposite(definition, place);
  const hand = hands[(hands.indexOf(place.hand) + 1) % hands.length] as Hand;
  return { ...place, hand };
}

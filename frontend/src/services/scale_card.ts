/** The printed scale card, looked for in a photograph; what finds it is loaded when it is asked. */

import type { FoundCard } from '../imaging/find_card';

export type { FoundCard } from '../imaging/find_card';

/** Returns the card in a photograph; corners are upright pixels of the original, clockwise from the
card's upper left. Refused: `no_card`, `two_cards`, `card_not_flat`, `unreadable_picture`. */
export async function findCard(picture: Blob): Promise<FoundCard> {
  const { findCard: find } = await import('../imaging/find_card');
  return find(picture);
}

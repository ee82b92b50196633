/** What of the book belongs to the airframe that this browser shows. */

import type { Structure, Zone } from '../domain/place';
import type { Shop } from './shop';

type OfBook = Pick<Shop, 'airframe' | 'book'>;

/** Looks of the airframe shown: a look belongs to the airframe of its survey. */
export async function looksHere(shop: OfBook) {
  const [coverage, surveys] = await Promise.all([
    shop.book.records('coverage'),
    shop.book.records('survey'),
  ]);
  const others = new Set(surveys.filter((one) => !isHere(shop, one)).map(({ record }) => record));
  return coverage.filter(({ survey }) => !others.has(String(survey)));
}

/** Surveys of the airframe shown. */
export async function surveysHere(shop: OfBook) {
  return (await shop.book.records('survey')).filter((one) => isHere(shop, one));
}

/** A zone of any hand as one of each hand that is drawn, port and starboard. */
export function zonesByHand(zone: Zone, structure: Structure | undefined): Zone[] {
  const drawn = structure?.hands.filter((hand) => hand !== 'C') ?? [];
  if (zone.hand != null || drawn.length === 0) return [zone];
  return drawn.map((hand) => ({ ...zone, hand }));
}

/** Whether a record is of the airframe shown; one that names none is. */
export function isHere(shop: Pick<Shop, 'airframe'>, one: object): boolean {
  const own = shop.airframe?.record;
  const { airframe } = one as { airframe?: unknown };
  return own === undefined || typeof airframe !== 'string' || airframe === own;
}

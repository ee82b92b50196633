/** What of the book belongs to the airframe that this browser shows. */

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

/** Whether a record is of the airframe shown; one that names none is. */
export function isHere(shop: Pick<Shop, 'airframe'>, one: object): boolean {
  const own = shop.airframe?.record;
  const { airframe } = one as { airframe?: unknown };
  return own === undefined || typeof airframe !== 'string' || airframe === own;
}

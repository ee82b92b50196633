/** What can go wrong in the store of a browser, as sentences. */

import { Refused } from '../domain/errors';

const LOST =
  /connection to indexed database server lost|connection is closing|database connection/i;

/** Says whether an error means that the handle is dead: reopen once and try again. */
export function isLost(error: unknown): boolean {
  if (!(error instanceof Error || error instanceof DOMException)) return false;
  return error.name === 'InvalidStateError' || LOST.test(error.message);
}

/** Says whether an error means that there is no room left. */
export function isFull(error: unknown): boolean {
  return (error as { name?: string } | null)?.name === 'QuotaExceededError';
}

/** The refusal for a browser that has no room left. */
export function full(what: string, cause: unknown): Refused {
  return new Refused(
    'full',
    `This tablet is full: ${what} could not be stored.`,
    'Nothing stored before is touched. Send what waits, make room on the tablet, and do it again.',
    { cause },
  );
}

/** The refusal for a store that is gone even after it was opened again. */
export function lost(cause: unknown): Refused {
  return new Refused(
    'store_lost',
    'The browser has closed the store of this tablet, and opening it again did not help.',
    'Reload the page. What was stored before is still there.',
    { cause },
  );
}

/** Says whether an error means that a later version of the app has brought the store further. */
export function isYounger(error: unknown): boolean {
  return (error as { name?: string } | null)?.name === 'VersionError';
}

/** The refusal for a page that is older than the store. */
export function younger(cause: unknown): Refused {
  return new Refused(
    'store_newer',
    'A newer version of Skinpin has this tablet’s store, and this page is of an older one.',
    'Reload the page. What was stored before is still there.',
    { cause },
  );
}

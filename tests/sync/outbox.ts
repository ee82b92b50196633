// What a tablet's store does to the outbox as it takes a new act in.

import type { Outbox } from '@sync/exchange';

/** The outbox with new entries to send. */
export const queue = (outbox: Outbox, ids: Iterable<string>): Outbox => ({
  ...outbox,
  unsent: [...new Set([...outbox.unsent, ...ids])],
});

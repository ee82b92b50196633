/** How much was sent since something last waited here: by ids, so that nothing counts twice. */

import type { WaitingCounts } from '../storage/waiting';
import type { Sent } from './shop';

type Ids = Pick<WaitingCounts, 'records' | 'bays' | 'photographs'>;
const KINDS = ['records', 'bays', 'photographs'] as const;

/** One tally runs over as many runs as it takes until nothing waits; the next begins a new one. */
export class SentTally {
  private asked = noIds();
  private is_all = true;

  /** Before a run, with what waits then. */
  begin(waits: WaitingCounts): void {
    if (waits.entries + waits.files === 0) return;
    if (this.is_all) this.asked = noIds();
    for (const kind of KINDS) for (const id of waits[kind]) this.asked[kind].add(id);
    this.is_all = false;
  }

  /** After a run, with what waits then; null: nothing was sent yet. */
  end(waits: WaitingCounts): Sent | null {
    this.is_all = waits.entries + waits.files === 0;
    const gone = (kind: keyof Ids) =>
      [...this.asked[kind]].filter((id) => !waits[kind].has(id)).length;
    const sent = { records: gone('records'), bays: gone('bays'), photographs: gone('photographs') };
    return sent.records + sent.bays + sent.photographs > 0 ? { ...sent, all: this.is_all } : null;
  }
}

const noIds = (): Ids => ({ records: new Set(), bays: new Set(), photographs: new Set() });

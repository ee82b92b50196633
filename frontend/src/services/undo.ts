/** What each person can take back on each record, since the app was started. */

import type { Entry } from '@sync/entry';
import { Refused } from '../domain/errors';
import { isFields, stateOf } from '../domain/verdicts';
import type { ActDraft, Json, Session } from './shop';
import type { Stands, Writer } from './writer';

/** What stood in the fields of one entry before it was written. */
export interface Before {
  record: string;
  kind: string;
  set: Record<string, Json>;
}

interface Step {
  person: string;
  writer: string;
  entries: Entry[];
  before: Before[];
}

export class UndoLine {
  private readonly steps = new Map<string, Step[]>();

  constructor(private readonly writer: Writer) {}

  /** What the drafts are going to replace: the first of the values that stand, null for none. */
  before(drafts: readonly ActDraft[], stands: Stands): Before[] {
    return drafts.map(({ record, kind, set }) => {
      const values = Object.values(stands.get(record)?.values ?? {});
      const was = Object.keys(set).map((field) => {
        const holder = values.find((fields) => Object.hasOwn(fields, field));
        return [field, (holder?.[field] ?? null) as Json] as const;
      });
      return { record, kind, set: Object.fromEntries(was) };
    });
  }

  /** Remembers an act under the record it belongs to. */
  push(session: Session, under: string, entries: Entry[], before: Before[]): void {
    const writer = entries[0]?.id.slice(-8) ?? this.writer.writer;
    const mine = this.steps.get(under) ?? [];
    mine.push({ person: session.person, writer, entries, before });
    this.steps.set(under, mine);
  }

  canUndo(session: Session, under: string): boolean {
    return this.last(session, under) !== null;
  }

  /** Writes the act that takes the last one back; what was written stays in the history. */
  async undo(session: Session, under: string): Promise<Entry[]> {
    const step = this.last(session, under);
    if (!step) {
      const hint = 'Correct it with a new entry; the history keeps both.';
      throw new Refused('nothing_to_undo', 'There is nothing of yours here to undo.', hint);
    }
    const move = step.entries.find((entry) => stateOf(entry).move !== undefined);
    const written = move
      ? await this.undoMove(session, move, step)
      : await this.back(session, step);
    const mine = this.steps.get(under) ?? [];
    mine.splice(mine.indexOf(step), 1);
    return written;
  }

  private last(session: Session, under: string): Step | null {
    const last = this.steps.get(under)?.at(-1);
    if (last?.person !== session.person) return null;
    const isMove = last.entries.some((entry) => stateOf(entry).move !== undefined);
    return isMove && last.writer !== this.writer.writer ? null : last;
  }

  private undoMove(session: Session, move: Entry, step: Step): Promise<Entry[]> {
    const was = step.before.find(({ record }) => record === move.record)?.set.state;
    const to = isFields(was) ? ((was.to ?? null) as Json) : null;
    const set = { state: { move: 'undo', to, undoes: move.id } };
    const draft = { record: move.record, kind: move.kind, set };
    return this.writer.write(session, {
      records: [move.record],
      count: 1,
      must_count: true,
      build: () => [draft],
    });
  }

  private back(session: Session, { before }: Step): Promise<Entry[]> {
    return this.writer.write(session, {
      records: before.map(({ record }) => record),
      count: before.length,
      must_count: false,
      build: () => before.map(({ record, kind, set }) => ({ record, kind, set: gone(kind, set) })),
    });
  }
}

/** A photograph taken back is only taken off its defect: what its bytes are stays true. */
function gone(kind: string, set: Record<string, Json>): Record<string, Json> {
  const isNew = Object.values(set).every((value) => value === null);
  if (!isNew) return set;
  if (kind === 'photograph' && 'defect' in set) return { defect: null };
  if (kind === 'mark' && 'shape' in set) return { struck: true };
  return set;
}

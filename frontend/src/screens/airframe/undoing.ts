import { fieldOf } from '../../domain/fields';
import type { DefectRow, Session, Shop, Undoable } from '../../services/shop';
import { useLive } from '../live';
import { READING } from './begun';

type Next = NonNullable<Undoable['next']>;

/** What UNDO does on a screen: how many steps, which comes first, or why there is none. */
export interface Undoing {
  second: string;
  unavailable: string | undefined;
  press: () => Promise<void>;
}

/** Steps of places that are undone in turn with the acts of the book. */
export interface PlaceSteps {
  changes: number[];
  undo: () => void;
}

/** UNDO of this person: acts on one record, or on any together with changes of place. */
export function useUndo(
  shop: Shop,
  rows: readonly DefectRow[],
  on: { record?: string; places?: PlaceSteps } = {},
): Undoing {
  const { session } = shop;
  const { record, places } = on;
  const acts = useLive(
    shop,
    async () => (session ? shop.capture.undoable(session, record) : null),
    [session?.person, record],
  );
  const changes = places?.changes ?? [];
  const next = acts?.next ?? null;
  const is_place = (changes.at(-1) ?? -1) > (next?.at_ms ?? -1) && changes.length > 0;
  const steps = (acts?.steps ?? 0) + changes.length;
  const words = is_place ? 'the place' : next ? stepWords(next, rows, record) : '';
  return {
    second: `${steps} ${steps === 1 ? 'step' : 'steps'}:\n${words}`,
    unavailable:
      steps > 0 ? undefined : acts === undefined ? READING : noneWords(acts?.stopped ?? null),
    press: async () => {
      if (is_place) places?.undo();
      else if (session) await undoActs(shop, session, record);
    },
  };
}

async function undoActs(shop: Shop, session: Session, record: string | undefined) {
  const { steps } = await shop.capture.undoable(session, record);
  if (steps > 0) await shop.capture.undo(session, record);
}

function noneWords(stopped: Undoable['stopped']): string {
  if (stopped === null) return 'nothing to undo';
  return stopped === 'restart' ? 'begun before the restart' : 'another went on with it';
}

/** "D/0002 depth", "the place of 4", "a bay looked at". */
export function stepWords(next: Next, rows: readonly DefectRow[], record?: string): string {
  const what = whatWords(next);
  if (next.kind === 'coverage' || next.kind === 'survey') return what;
  if (next.records.length > 1) return `${what} of ${next.records.length}`;
  const number = rows.find((row) => row.record === next.records[0])?.number;
  return record !== undefined || !number ? what : `${number}\n${what}`;
}

const MOVED: Readonly<Record<string, string>> = { new: 'the number', raise: 'raised' };

function whatWords({ kind, fields, move }: Next): string {
  if (kind === 'coverage') return 'the bay';
  if (kind === 'survey') return 'the survey';
  if (kind === 'photograph') return fields.includes('sha256') ? 'picture' : 'of the picture';
  if (kind === 'mark' || kind === 'scale' || kind === 'measurement') return kind;
  if (move !== null) return MOVED[move] ?? move;
  const [first] = fields;
  if (fields.includes('kind')) return 'the kind';
  if (fields.length > 1) return `${fields.length} answers`;
  return (fieldOf('defect', first ?? '')?.label ?? first ?? '').toLowerCase();
}

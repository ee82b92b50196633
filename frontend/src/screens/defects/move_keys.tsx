import { useEffect, useState } from 'preact/hooks';
import { isQuantity } from '../../domain/quantities';
import { DeskKey, KeyRow, Question } from '../../furniture';
import type { DefectRow, Json, ScreenProps, Session, Shop, Undoable } from '../../services/shop';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { useLive } from '../live';
import { askedFor } from '../measure/graded';
import type { Picture } from '../photograph/pictures';
import { GradeAgain } from './grade_again';
import { decide, detailsOf } from './move_details';
import { MoveField } from './move_field';
import { type Decision, formOf, isDecision, MOVE_WORDS } from './move_forms';

type Props = ScreenProps & {
  row: DefectRow;
  values: Record<string, Json>;
  photographs: Picture[];
  /** A move that the sheet asks for in another place. */
  without?: string | undefined;
  /** Told when what a move needs is asked, and when not any more. */
  onForm?: ((is_open: boolean) => void) | undefined;
};

/** The moves this person may make now as keys; what a move needs is asked in the sheet. */
export function MoveKeys(props: Props) {
  const { shop, row, values } = props;
  const { session } = shop;
  const [move, setMove] = useState<string | null>(null);
  const [is_wide, setWide] = useState(false);
  const [given, setGiven] = useState<Record<string, string>>({});
  const { trouble, busy, run, setTrouble } = useTrouble();
  const { onForm } = props;
  useEffect(() => {
    onForm?.(move !== null);
    return () => onForm?.(false);
  }, [move]);
  const open = useLive(shop, () => openHere(shop, session, row), [row.record, session?.person]);
  if (!open) return null;
  const moves = open.moves.filter((name) => name !== props.without && isWanted(name, row));
  const decisions = decisionsOpen(row, values, session, shop);
  const first = decisions.filter((one) => FIRST.has(one));
  const rest = decisions.filter((one) => !FIRST.has(one));
  if (moves.length + decisions.length === 0 && open.undo === null)
    return <p class="no-moves">Nothing for {session?.name ?? 'you'} to do on this record now.</p>;
  const make = (name: string, answers: Record<string, string>) =>
    run(async () => {
      if (!session) return;
      if (isDecision(name)) await decide(shop, session, name, row, answers);
      else
        await shop.moves.makeMove(
          session,
          row.record,
          name,
          await detailsOf(shop, name, row, answers),
        );
      setMove(null);
      setGiven({});
    });
  const press = (name: string) => {
    setTrouble(null);
    setGiven({});
    if (formOf(name, row).length === 0 && name !== 'grade again') make(name, {});
    else setMove(name);
  };
  const undo = () =>
    run(async () => {
      if (session) await shop.capture.undo(session, row.record);
    });
  return (
    <section class="moves" aria-label="Moves">
      <TroubleNote trouble={trouble} />
      {move ? (
        <Question
          title={MOVE_WORDS[move] ?? move}
          text={`${row.number}, now ${row.state}`}
          keys={
            <>
              <DeskKey
                label={`${MOVE_WORDS[move] ?? move}`}
                kind="main"
                unavailable={busy ? 'a moment …' : undefined}
                onPress={() => make(move, given)}
              />
              <DeskKey label="Not now" onPress={() => setMove(null)} />
            </>
          }
        >
          {move === 'grade again' && <GradeAgain shop={shop} row={row} values={values} />}
          <form
            class="move-form"
            onSubmit={(event) => {
              event.preventDefault();
              make(move, given);
            }}
          >
            {formOf(move, row).map((field) => (
              <MoveField
                key={field.name}
                field={field}
                value={given[field.name] ?? ''}
                row={row}
                photographs={props.photographs}
                shop={shop}
                onValue={(value) => setGiven({ ...given, [field.name]: value })}
              />
            ))}
          </form>
        </Question>
      ) : (
        <KeyRow apart="desk" label="Moves open now">
          {[...moves, ...first, ...(is_wide || rest.length < 2 ? rest : [])].map((name) => (
            <DeskKey
              key={name}
              label={MOVE_WORDS[name] ?? name}
              unavailable={busy ? 'a moment …' : undefined}
              onPress={() => press(name)}
            />
          ))}
          {!is_wide && rest.length > 1 && (
            <DeskKey
              label="More"
              spoken={`More: ${rest.map((name) => MOVE_WORDS[name]).join(', ')}`}
              onPress={() => setWide(true)}
            />
          )}
          {open.undo && (
            <DeskKey
              label="Undo"
              second={open.undo}
              kind="undo"
              unavailable={busy ? 'a moment …' : undefined}
              onPress={undo}
            />
          )}
        </KeyRow>
      )}
    </section>
  );
}

/** What a tablet is sent to do stands with the moves; the other decisions are seldom. */
const FIRST = new Set<Decision>(['look again', 'look again back', 'answer']);

/** Nobody stamps again what is cleared while its stamps hold. */
function isWanted(move: string, row: DefectRow): boolean {
  return move !== 'clear' || row.state !== 'Cleared' || !row.stamps_hold;
}

/** The moves open to this person, and what of theirs here comes first when it is undone. */
async function openHere(shop: Shop, session: Session | null, row: DefectRow) {
  if (!session) return { moves: [], undo: null };
  const moves = await shop.moves.open(session, row.record);
  const { next } = await shop.capture.undoable(session, row.record);
  return { moves: [...new Set(moves)], undo: next && undoneWords(next) };
}

/** What is taken back: "same as", "note, depth". */
function undoneWords({ move, fields, kind }: NonNullable<Undoable['next']>): string {
  if (move) return (MOVE_WORDS[move] ?? move).replace(' …', '').toLowerCase();
  if (kind !== 'defect') return kind.replaceAll('_', ' ');
  return fields.slice(0, 2).join(', ').replaceAll('_', ' ');
}

const hasFigure = (values: Record<string, Json>) =>
  askedFor(values).some(({ field }) => isQuantity(values[field]));

const DONE = new Set(['Same as', 'Raised in error']);

/** Decisions that leave the state, and the answer to what was asked. */
function decisionsOpen(
  row: DefectRow,
  values: Record<string, Json>,
  session: Session | null,
  shop: Shop,
): Decision[] {
  if (!session || DONE.has(row.state ?? '') || !row.state) return [];
  const asked = row.look_again ?? null;
  const answers: Decision[] = [
    ...(asked && session.role === 'inspector' ? (['answer'] as const) : []),
    ...(row.state !== 'Draft' && hasFigure(values) ? (['correct'] as const) : []),
  ];
  if (session.role !== 'lead' || !session.may_decide) return answers;
  const newest = shop.standard && `${shop.standard.name} issue ${shop.standard.issue}`;
  const isOld = newest !== null && !!row.graded_by && row.graded_by !== newest;
  return [
    ...(row.kind && row.kind !== 'nil' ? (['overrule'] as const) : []),
    ...(values.overrule ? (['overrule back'] as const) : []),
    asked ? 'look again back' : 'look again',
    ...(isOld ? (['grade again'] as const) : []),
    ...answers,
  ];
}

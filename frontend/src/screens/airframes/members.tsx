import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import { announce, DeskKey, KeyRow } from '../../furniture';
import { inOrder, moveDatum } from '../../services/airframe_edits';
import { type Row, type StructureTyped, said } from '../../services/airframe_rows';
import type { PartProps } from './described';
import { rowTroubles } from './parts';
import { PasteMembers } from './paste_members';
import { SetLine } from './set_line';
import { type Column, Table } from './table';

const COLUMNS: Column[] = [
  { name: 'name', label: 'Member', wide: 2 },
  { name: 'station', label: 'Station', wide: 2, figure: true },
  { name: 'kind', label: 'Kind', wide: 2, empty: 'frame' },
  { name: 'main', label: 'Main', wide: 1, yes: true },
  { name: 'upper_station', label: 'Canted: upper', wide: 2, figure: true },
  { name: 'written', label: 'Written', wide: 1 },
  { name: 'added', label: 'By repair', wide: 1, yes: true },
  { name: 'thickness', label: 'Thickness', wide: 1, figure: true },
];

/** Members of one structure: a table, one box to paste into, and the datum. */
export function Members(props: PartProps) {
  const { draft, structure, troubles, onLine } = props;
  const typed = draft.description.structures[structure];
  const [chosen, setOpen] = useState<{ open: 'paste' | 'datum'; led: number } | null>(null);
  const box = useRef<HTMLDivElement>(null);
  const has_read = useRef(false);
  // The box to paste into is gone with what was read: the keyboard goes on in the table.
  useLayoutEffect(() => {
    if (has_read.current) box.current?.querySelector<HTMLElement>('.typed-table input')?.focus();
    has_read.current = false;
  });
  if (!typed) return <p class="part-hint">First a structure: PAGE UP goes back to it.</p>;
  const put = (members: Row[]) =>
    draft.set(withMembers(draft.description.structures, structure, members));
  const ordered = inOrder(typed.members);
  const is_ordered = ordered.every((row, at) => row === typed.members[at]);
  // Whoever is led to a line by a trouble finds it in the table.
  const open = chosen?.led === props.led ? chosen.open : null;
  const pasting = open === 'paste' || (open === null && said(typed.members).length === 0);
  const show = (what: 'paste' | 'datum') => setOpen({ open: what, led: props.led });
  return (
    <>
      <KeyRow apart="desk">
        <DeskKey
          label={pasting ? 'TABLE' : 'PASTE A LIST'}
          onPress={() => show(pasting ? 'datum' : 'paste')}
        />
        <DeskKey
          label="IN ORDER OF STATION"
          unavailable={is_ordered ? 'they are' : undefined}
          onPress={() => {
            put(ordered);
            announce('The members stand in order of station.');
          }}
        />
      </KeyRow>
      {pasting ? (
        <PasteMembers
          {...props}
          typed={typed}
          onRead={put}
          onClose={() => {
            has_read.current = true;
            show('datum');
          }}
        />
      ) : (
        <div class="part-block" ref={box}>
          <Table
            of="member"
            columns={COLUMNS}
            rows={typed.members}
            troubles={rowTroubles(troubles, 'members', structure)}
            onRows={put}
            onLine={onLine}
          />
          <Datum {...props} typed={typed} />
        </div>
      )}
    </>
  );
}

function withMembers(structures: readonly StructureTyped[], at: number, members: Row[]) {
  return {
    structures: structures.map((one, place) => (place === at ? { ...one, members } : one)),
  };
}

/** Another datum: every station moves, no place on the metal does. */
function Datum({ draft, structure, typed }: PartProps & { typed: StructureTyped }) {
  const [by, setBy] = useState('');
  const move = () => {
    draft.set(moveDatum(draft.description, structure, by));
    announce(`Every station of ${typed.name} is ${by} more.`);
    setBy('');
  };
  const unit = typed.unit || draft.description.unit;
  const is_figure = /^\s*[-+\u2212]?\d*[.,]?\d+\s*$/.test(by);
  return (
    <div class="datum-line">
      <SetLine
        label={`Another datum: add to every station, ${unit}`}
        example="−4"
        value={by}
        onText={setBy}
        onEnter={() => is_figure && move()}
      />
      <DeskKey
        label="MOVE THE DATUM"
        unavailable={is_figure ? undefined : 'a figure is missing'}
        onPress={move}
      />
      <p class="part-hint">
        Kinds by a letter: f frame, h half frame, r rib, b bulkhead, s spar. ENTER next line ·
        arrows move · SHIFT + ENTER a line before this one · SHIFT + DELETE takes it out. A plug
        member is named as it is written: 340B + 10.25 is 10.25 past 340B.
      </p>
    </div>
  );
}

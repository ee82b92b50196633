import { announce, DeskKey, KeyRow } from '../../furniture';
import { otherHandOf, withOtherHand } from '../../services/airframe_hands';
import { BLANK_STRUCTURE, type Row, type StructureTyped, said } from '../../services/airframe_rows';
import type { PartProps } from './described';
import { counted, rowTroubles } from './parts';
import { type Column, Table } from './table';

const COLUMNS: Column[] = [
  { name: 'name', label: 'Structure', wide: 2, wraps: true },
  { name: 'hands', label: 'Hands', wide: 1, empty: 'P S C' },
  { name: 'axis', label: 'Axis', wide: 1, empty: 'Sta' },
  { name: 'unit', label: 'Unit', wide: 1 },
  { name: 'positive', label: 'Grow', wide: 2, empty: 'aft' },
  { name: 'datum', label: 'Datum in words', wide: 4, wraps: true },
  { name: 'faces', label: 'Faces', wide: 2, empty: 'inner, outer', wraps: true },
];

/** The structures of the airframe, a line each: datum, direction, hands and faces. */
export function Structures(props: PartProps) {
  const { draft, troubles, onLine, line } = props;
  const { structures, unit } = draft.description;
  const rows = structures.map((one, at) => rowOf(one, at, unit));
  return (
    <>
      <Table
        of="structure"
        columns={COLUMNS}
        rows={rows}
        troubles={rowTroubles(troubles, 'structures')}
        onRows={(next) => draft.set(structuresOf(draft.description, next))}
        onLine={onLine}
      />
      <OtherHand draft={draft} at={structures[line] ? line : structures.length - 1} />
      <p class="part-hint">
        The datum says where nought lies, in words; stations grow aft, outboard, up … of it. Hands:
        P port, S starboard, C centreline. ENTER next line · SHIFT + DELETE takes one out. The same
        for the other hand writes members, strakes and plates as they stand, and again when they
        have changed; zones and access are written for each hand.
      </p>
    </>
  );
}

/** Of a port wing the starboard one; pressed again, what has changed on the one since. */
function OtherHand({ draft, at }: { draft: PartProps['draft']; at: number }) {
  const { structures } = draft.description;
  const shown = structures[at];
  const name = shown && otherHandOf(shown)?.name;
  const found = withOtherHand(structures, at);
  const members = counted(said(shown?.members ?? []).length, 'member') || 'no members yet';
  const write = () => {
    if (!found) return;
    draft.set({ structures: found.structures });
    announce(`${found.name} is written with ${members}.`);
  };
  return (
    <KeyRow apart="desk">
      <DeskKey
        label="THE SAME FOR THE OTHER HAND"
        second={
          found
            ? `${found.name}, ${members}${found.replaced ? ` in place of its ${found.replaced}` : ''}`
            : undefined
        }
        unavailable={
          found ? undefined : name ? `${name} has the same` : 'a structure of one hand, “Port wing”'
        }
        onPress={write}
      />
    </KeyRow>
  );
}

type Shown = 'name' | 'hands' | 'axis' | 'unit' | 'positive' | 'datum' | 'faces';

/** `at` says which structure a line is of, when lines are put in or taken out. */
function rowOf(one: StructureTyped, at: number, unit: string): Row {
  const { name, hands, axis, positive, datum, faces } = one;
  return { at: String(at), name, hands, axis, unit: one.unit || unit, positive, datum, faces };
}

function structuresOf(
  { structures, zones, views }: PartProps['draft']['description'],
  rows: readonly Row[],
) {
  const renamed = new Map<string, string>();
  const next = rows.map((row) => {
    const { at, ...texts } = row;
    const before = at === undefined ? undefined : structures[Number(at)];
    const typed = { ...(before ?? BLANK_STRUCTURE), ...(texts as Pick<StructureTyped, Shown>) };
    if (before && before.name !== typed.name) renamed.set(before.name, typed.name);
    return typed;
  });
  if (renamed.size === 0) return { structures: next };
  const name = (text: string) => renamed.get(text) ?? text;
  return {
    structures: next,
    zones: zones.map((row) => (row.structure ? { ...row, structure: name(row.structure) } : row)),
    views: views.map((view) => {
      const one = view as { structure: string };
      return { ...one, structure: name(one.structure) };
    }),
  };
}

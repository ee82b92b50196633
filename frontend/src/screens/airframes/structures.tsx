import { DeskKey, KeyRow } from '../../furniture';
import { otherHandOf } from '../../services/airframe_edits';
import { BLANK_STRUCTURE, type Row, type StructureTyped } from '../../services/airframe_rows';
import type { PartProps } from './described';
import { rowTroubles } from './parts';
import { type Column, Table } from './table';

const COLUMNS: Column[] = [
  { name: 'name', label: 'Structure', wide: 2 },
  { name: 'hands', label: 'Hands', wide: 1, empty: 'P S C' },
  { name: 'axis', label: 'Axis', wide: 1, empty: 'Sta' },
  { name: 'unit', label: 'Unit', wide: 1 },
  { name: 'positive', label: 'Grow', wide: 1, empty: 'aft' },
  { name: 'datum', label: 'Datum in words', wide: 4 },
  { name: 'faces', label: 'Faces', wide: 2, empty: 'inner, outer' },
];

/** The structures of the airframe, a line each: datum, direction, hands and faces. */
export function Structures(props: PartProps) {
  const { draft, troubles, onLine, line } = props;
  const { structures, unit } = draft.description;
  const rows = structures.map((one, at) => rowOf(one, at, unit));
  const shown = structures[line] ?? structures.at(-1);
  const other = shown ? otherHandOf(shown) : null;
  const taken = structures.some((one) => one.name === other?.name);
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
      <KeyRow apart="desk">
        <DeskKey
          label="THE SAME FOR THE OTHER HAND"
          second={other ? other.name : undefined}
          unavailable={
            other
              ? taken
                ? `${other.name} is here`
                : undefined
              : 'a structure of one hand, “Port wing”'
          }
          onPress={() => other && draft.set({ structures: [...structures, other] })}
        />
      </KeyRow>
      <p class="part-hint">
        The datum says where nought lies, in words; stations grow aft, outboard, up … of it. Hands:
        P port, S starboard, C centreline. ENTER next line · SHIFT + DELETE takes one out.
      </p>
    </>
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

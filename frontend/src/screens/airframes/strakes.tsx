import { namesOf, type StructureTyped } from '../../services/airframe_rows';
import type { PartProps } from './described';
import { SetLine } from './set_line';
import { type Column, Table } from './table';

const COLUMNS: Column[] = [
  { name: 'part', label: 'Plate or part', wide: 4, wraps: true },
  { name: 'low', label: 'From strake', wide: 1 },
  { name: 'high', label: 'To strake', wide: 1 },
  { name: 'thickness', label: 'Thickness', wide: 1, figure: true },
  { name: 'material', label: 'Material', wide: 1, empty: 'AL' },
];

/** Strake or stringer lines from the keel outwards, and the plates between them. */
export function Strakes({ draft, structure, troubles }: PartProps) {
  const { structures } = draft.description;
  const typed = structures[structure];
  if (!typed) return <p class="part-hint">First a structure: PAGE UP goes back to it.</p>;
  const put = (change: Partial<StructureTyped>) =>
    draft.set({
      structures: structures.map((one, at) => (at === structure ? { ...one, ...change } : one)),
    });
  const names = namesOf(typed.strakes);
  const wrong = troubles.find(
    (one) => one.part === 'strakes' && one.structure === structure && one.column !== 'plating',
  );
  return (
    <>
      <SetLine
        label={`Strake or stringer lines of ${typed.name || 'the structure'}, from the keel outwards`}
        example="K, B1–B3, C, S1–S4, G"
        value={typed.strakes}
        wrong={wrong?.words}
        first
        onText={(strakes) => put({ strakes })}
      />
      <p class="part-hint">
        {names.length > 1
          ? `${names.length} lines, ${names.length - 1} strakes: ${names.join(' · ')}`
          : 'Left empty there are none, as on a wing of ribs and skins.'}
      </p>
      <Table
        of="plate"
        columns={COLUMNS}
        rows={typed.plates}
        troubles={[]}
        onRows={(plates) => put({ plates })}
      />
      <p class="part-hint">
        A plate lies between two lines; a part without them is anywhere on the structure. The
        thickness is offered while measuring, and shares are worked out of it.
      </p>
    </>
  );
}

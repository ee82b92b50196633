import type { PartProps } from './described';
import { rowTroubles } from './parts';
import { type Column, Table } from './table';

const COLUMNS: Column[] = [
  { name: 'zone', label: 'Zone', wide: 1 },
  { name: 'name', label: 'Panel, floor or hatch', wide: 4, wraps: true },
  { name: 'kind', label: 'Kind', wide: 1, empty: 'panel' },
  { name: 'fixings', label: 'Fixings', wide: 1, figure: true },
];

/** What must come up or open to get at a zone, and which zones are confined spaces. */
export function Access({ draft, troubles }: PartProps) {
  const { access, zones } = draft.description;
  const confined = zones.filter((row) => row.confined).map((row) => row.zone);
  return (
    <>
      <Table
        of="item"
        columns={COLUMNS}
        rows={access}
        troubles={rowTroubles(troubles, 'access')}
        onRows={(next) => draft.set({ access: next })}
      />
      <p class="part-hint">
        {confined.length > 0
          ? `Confined spaces, where nobody works alone: ${confined.join(', ')}.`
          : 'No zone is marked as a confined space; that is a column of the zones.'}
      </p>
    </>
  );
}

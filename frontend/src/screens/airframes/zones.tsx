import { DeskKey, KeyRow } from '../../furniture';
import { otherHandZones } from '../../services/airframe_edits';
import type { PartProps } from './described';
import { rowTroubles } from './parts';
import { type Column, Table } from './table';

const COLUMNS: Column[] = [
  { name: 'zone', label: 'Zone', wide: 1 },
  { name: 'title', label: 'Title', wide: 4 },
  { name: 'structure', label: 'Structure', wide: 2 },
  { name: 'hand', label: 'Hand', wide: 1, empty: 'any' },
  { name: 'from', label: 'From member', wide: 1, empty: 'open' },
  { name: 'to', label: 'Up to', wide: 1, empty: 'open' },
  { name: 'low', label: 'From strake', wide: 1, empty: 'all' },
  { name: 'high', label: 'To strake', wide: 1 },
  { name: 'confined', label: 'Confined', wide: 1, yes: true },
];

/** Zones as rules: what lies from one member up to the next belongs to exactly one. */
export function Zones({ draft, troubles, structure, onLine, line }: PartProps) {
  const { zones, structures } = draft.description;
  const row = zones[line] ?? {};
  const taken = zones.map((one) => one.zone?.trim() ?? '');
  const others = otherHandZones(row, taken);
  const shown = structures[structure]?.name ?? '';
  const columns = COLUMNS.map((column) =>
    column.name === 'structure'
      ? { ...column, empty: structures.length === 1 ? shown : '' }
      : column,
  );
  return (
    <>
      <Table
        of="zone"
        columns={columns}
        rows={zones}
        troubles={rowTroubles(troubles, 'zones')}
        onRows={(next) => draft.set({ zones: next })}
        onLine={onLine}
      />
      <KeyRow apart="desk">
        <DeskKey
          label="ITS OTHER HANDS TOO"
          second={others.length > 0 ? others.map((one) => one.zone).join(' and ') : undefined}
          unavailable={others.length > 0 ? undefined : 'a line of port or starboard'}
          onPress={() =>
            draft.set({ zones: [...zones.slice(0, line + 1), ...others, ...zones.slice(line + 1)] })
          }
        />
      </KeyRow>
      <p class="part-hint">
        A member belongs to the zone that begins at it. Hundreds: 1 lower, 2 upper, 3 tail, 4
        engines, 5 left wing, 6 right wing, 7 alighting gear; last figure odd port, even starboard,
        0 centreline.
      </p>
    </>
  );
}

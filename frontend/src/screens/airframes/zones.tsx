import { announce, DeskKey, KeyRow } from '../../furniture';
import { otherHandZones } from '../../services/airframe_hands';
import { handsOf, type Row } from '../../services/airframe_rows';
import type { PartProps } from './described';
import { rowTroubles } from './parts';
import { type Column, Table } from './table';

const COLUMNS: Column[] = [
  { name: 'zone', label: 'Zone', wide: 1 },
  { name: 'title', label: 'Title', wide: 4, wraps: true },
  { name: 'structure', label: 'Structure', wide: 2, wraps: true },
  { name: 'hand', label: 'Hand', wide: 0, empty: 'any' },
  { name: 'from', label: 'From member', wide: 1, empty: 'open', wraps: true },
  { name: 'to', label: 'Up to', wide: 1, empty: 'open', wraps: true },
  { name: 'low', label: 'From strake', wide: 0, empty: 'all' },
  { name: 'high', label: 'To strake', wide: 0 },
  { name: 'confined', label: 'Confined', wide: 1, yes: true },
];

/** Zones as rules: what lies from one member up to the next belongs to exactly one. */
export function Zones({ draft, troubles, structure, onLine, line }: PartProps) {
  const { zones, structures } = draft.description;
  const row = zones[line] ?? {};
  const on = structures.find((one) => one.name === row.structure?.trim()) ?? structures[structure];
  const { offered, said } = otherHandZones(row, zones, handsOf(on?.hands ?? ''));
  const write = () => {
    draft.set({ zones: [...zones.slice(0, line + 1), ...offered, ...zones.slice(line + 1)] });
    announce([`${numbers(offered)} written`, ...said].join('. '));
  };
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
          second={offered.length > 0 ? numbers(offered) : undefined}
          unavailable={
            offered.length > 0
              ? undefined
              : said.length > 0
                ? 'nothing to write'
                : 'a line of port or starboard'
          }
          onPress={write}
        />
      </KeyRow>
      {said.length > 0 && (
        <p class="part-said">
          <b>Beside {row.zone}:</b> {said.join(' · ')}.
        </p>
      )}
      <p class="part-hint">
        A member belongs to the zone that begins at it. Hundreds: 1 lower, 2 upper, 3 tail, 4
        engines, 5 left wing, 6 right wing, 7 alighting gear; last figure odd port, even starboard,
        0 centreline.
      </p>
    </>
  );
}

function numbers(rows: readonly Row[]): string {
  return rows.map(({ zone }) => zone).join(' and ');
}

import { stateWords } from '../../domain/moves';
import type { DefectRow, Place } from '../../services/shop';
import { RecordMark } from '../frame/record_mark';
import { READING } from './begun';
import { HAND_SHORT } from './hands';
import { BAY_ONLY, bayName, reachOf } from './whole_bay';
import { type Structure, spotOf } from './window';

/** How far round a place what is here already is looked for, by the structure’s unit. */
export const NEAR: Readonly<Record<string, number>> = { in: 6, mm: 150 };
export const MOST = 2;

/**
 * Records within 6 in along the structure, of a place known by its bay in the bay and 6 in round it, and one strake across, over the keel too, or on the same
 * strakes of the other hand: those of this hand first, each the nearest first.
 */
export function nearby(
  rows: readonly DefectRow[],
  structure: Structure,
  place: Place,
  station: number,
): DefectRow[] {
  const here = spotOf(structure, place, station);
  const [from, to] = reachOf(structure, place, station);
  const near = NEAR[structure.unit] ?? 6;
  const outside = (row: DefectRow) =>
    Math.max(from - Number(row.station), Number(row.station) - to);
  const away = (row: DefectRow) => Math.abs(Number(row.station) - station);
  const is_beside = (row: DefectRow) => {
    if (!row.place?.strakes || !place.strakes) return true;
    const spot = spotOf(structure, row.place, station);
    const apart = Math.max(spot.from - here.to, here.from - spot.to);
    const mirrored = Math.max(-spot.to - here.to, here.from + spot.from);
    return Math.min(apart, mirrored) < 1;
  };
  const order = (row: DefectRow) => (row.hand === place.hand ? 0 : 1000) + away(row);
  return rows
    .filter((row) => row.structure === place.structure && row.station !== null && row.place)
    .filter((row) => row.state !== 'Raised in error' && outside(row) <= near && is_beside(row))
    .map((row) => [row, order(row)] as const)
    .sort(([, one], [, other]) => one - other)
    .map(([row]) => row);
}

/** The record that a new one could be the same as: the nearest that others found, or that was found
another day. What this person has just raised here is no answer to *seen before?*. */
export function askable(
  near: readonly DefectRow[],
  me: { person: string | undefined; today: string },
): DefectRow | undefined {
  return near.find(
    (row) =>
      !['Draft', 'Same as'].includes(row.state ?? '') &&
      !(row.raised_by === me.person && row.raised_on === me.today),
  );
}

/** What was found here before, with hand and distance in words. */
export function HereBefore(props: {
  rows: DefectRow[];
  is_read: boolean;
  /** How many there is room for. */
  most?: number;
  structure: Structure;
  place: Place;
  station: number;
  unit: string;
  onOpen: (row: DefectRow) => void;
}) {
  const { rows, place, station, unit } = props;
  if (!props.is_read) return <p class="here-none">Here already: {READING}</p>;
  const bay = place.precision === BAY_ONLY ? bayName(props.structure, place) : null;
  if (rows.length === 0)
    return (
      <p class="here-none">
        Nothing recorded{' '}
        {bay
          ? `in ${bay}, nor within ${NEAR[unit]} ${unit} of it`
          : `within ${NEAR[unit]} ${unit} of here`}
        .
      </p>
    );
  const shown = rows.slice(0, props.most ?? MOST);
  return (
    <section class="here">
      <h2 class="cap">
        Here already, {bay ? `${bay} ±` : 'within'} {NEAR[unit]} {unit}
        {rows.length > shown.length ? `: ${shown.length} of ${rows.length}` : ''}
      </h2>
      <ul>
        {shown.map((row) => (
          <li key={row.record}>
            <button type="button" class="here-row" onClick={() => props.onOpen(row)}>
              <RecordMark row={row} size={40} />
              <span class="here-number">{row.number}</span>
              <span class="here-where">{whereWords(row, place, station, unit)}</span>
              <span class="here-what">
                {row.grade_words}
                {row.kind_words ? `, ${row.kind_words.toLowerCase()}` : ''}
                {` · ${stateWords(row.state ?? '')}`}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** "Port, 0.5 in fwd"; "Stbd, other hand". */
export function whereWords(row: DefectRow, place: Place, station: number, unit: string): string {
  const hand = HAND_SHORT[row.hand ?? ''] ?? '';
  if (row.hand !== place.hand) return `${hand}, other hand`;
  const is_bay = row.place?.precision === BAY_ONLY || place.precision === BAY_ONLY;
  if (is_bay && row.place?.member === place.member) return inBayWords(row, hand);
  const away = Number(row.station) - station;
  if (Math.abs(away) < 0.005) return `${hand}, here`;
  const figure = Math.round(Math.abs(away) * 100) / 100;
  return `${hand}, ${figure} ${unit} ${away < 0 ? 'fwd' : 'aft'}`;
}

/** "Port, F5 + 6.5"; of a record known by its bay "Port, this bay". */
function inBayWords(row: DefectRow, hand: string): string {
  if (!row.place || row.place.precision === BAY_ONLY) return `${hand}, this bay`;
  const { member, offset } = row.place;
  return Number(offset?.value ?? 0) === 0
    ? `${hand}, at ${member}`
    : `${hand}, ${member} + ${offset.value}`;
}

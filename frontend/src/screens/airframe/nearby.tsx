import { type GradeFigure, GradeMark, type MarkState } from '../../furniture';
import type { DefectRow, Place } from '../../services/shop';

const NEAR = 6;
const MOST = 2;

/** Records within 6 in of a station on the same structure, the nearest first. */
export function nearby(rows: DefectRow[], place: Place, station: number): DefectRow[] {
  const away = (row: DefectRow) => Math.abs(Number(row.station) - station);
  return rows
    .filter((row) => row.structure === place.structure && row.station !== null)
    .filter((row) => row.state !== 'Raised in error' && away(row) <= NEAR)
    .sort((one, other) => away(one) - away(other))
    .slice(0, MOST);
}

/** What was found here before, with hand and distance in words. */
export function HereBefore(props: {
  rows: DefectRow[];
  place: Place;
  station: number;
  unit: string;
  onOpen: (row: DefectRow) => void;
}) {
  const { rows, place, station, unit } = props;
  if (rows.length === 0)
    return (
      <p class="here-none">
        Nothing recorded within {NEAR} {unit} of here.
      </p>
    );
  return (
    <section class="here">
      <h2 class="cap">
        Here before, within {NEAR} {unit}
      </h2>
      <ul>
        {rows.map((row) => (
          <li key={row.record}>
            <button type="button" class="here-row" onClick={() => props.onOpen(row)}>
              <GradeMark
                grade={row.grade as GradeFigure | null}
                at_least={!row.grade_known}
                state={row.state as MarkState}
                size={40}
              />
              <span class="here-number">{row.number}</span>
              <span class="here-where">{whereWords(row, place, station, unit)}</span>
              <span class="here-what">
                {row.grade_words}
                {row.kind_words ? `, ${row.kind_words.toLowerCase()}` : ''}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

function whereWords(row: DefectRow, place: Place, station: number, unit: string): string {
  const hand = row.hand === 'P' ? 'Port' : row.hand === 'S' ? 'Stbd' : 'Centre';
  if (row.hand !== place.hand) return `${hand}, other hand`;
  const away = Number(row.station) - station;
  if (Math.abs(away) < 0.005) return `${hand}, here`;
  const figure = Math.round(Math.abs(away) * 100) / 100;
  return `${hand}, ${figure} ${unit} ${away < 0 ? 'fwd' : 'aft'}`;
}

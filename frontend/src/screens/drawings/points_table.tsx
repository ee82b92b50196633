import type { Structure } from '../../domain/place';
import { type Drawing, errorWords, type Fitted, isOfBoth, type Known } from './known';

interface PointsTableProps {
  drawing: Drawing;
  structure: Structure;
  fitted: Fitted | null;
  rows: readonly { row: number; is_check: boolean }[];
  chosen: number | null;
  onChoose: (row: number) => void;
  onChange: (row: number, change: Partial<Known>) => void;
  onTakeOff: (row: number) => void;
}

/** What each point is: member and how far past it, strake or water line; and how far off the fit is. */
export function PointsTable(props: PointsTableProps) {
  const { drawing, structure } = props;
  const both = isOfBoth(drawing, structure);
  const heads = [
    ...['Point', 'Member', `+ ${structure.unit}`],
    drawing.second === 'strake' ? 'Strake' : `Water line, ${structure.unit}`,
    ...(both ? ['Hand'] : []),
    ...['Off by', ''],
  ];
  return (
    <table class="points-table">
      <thead>
        <tr>
          {heads.map((head) => (
            <th key={head} scope="col">
              {head || <span class="spoken">Take off</span>}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {drawing.points.map((one, row) => (
          <Point key={row} {...props} {...{ one, row, both }} />
        ))}
      </tbody>
    </table>
  );
}

function Point(props: PointsTableProps & { one: Known; row: number; both: boolean }) {
  const { one, row, both, drawing, structure, fitted, onChange } = props;
  const at = props.rows.filter((each) => !each.is_check).findIndex((each) => each.row === row);
  const error = one.is_check ? fitted?.check_error : fitted?.errors[at];
  const named = `Point ${row + 1}`;
  const options = (names: readonly string[]) =>
    ['', ...names].map((name) => (
      <option key={name} value={name}>
        {name || '–'}
      </option>
    ));
  return (
    <tr class={row === props.chosen ? 'chosen' : undefined} onFocusIn={() => props.onChoose(row)}>
      <th scope="row">
        <button
          type="button"
          class="point-number"
          aria-pressed={row === props.chosen}
          onClick={() => props.onChoose(row)}
        >
          {row + 1}
          {one.is_check && ' check'}
          <span class="point-px">{one.px ? one.px.map(Math.round).join(', ') : 'not touched'}</span>
        </button>
      </th>
      <td>
        <select
          aria-label={`${named}, member`}
          value={one.member}
          onChange={(event) => onChange(row, { member: event.currentTarget.value })}
        >
          {options(structure.members.map(({ name }) => name))}
        </select>
      </td>
      <td>
        <Line
          label={`${named}, past the member`}
          value={one.offset}
          onText={(offset) => onChange(row, { offset })}
        />
      </td>
      <td>
        {drawing.second === 'strake' ? (
          <select
            aria-label={`${named}, strake`}
            value={one.second}
            onChange={(event) => onChange(row, { second: event.currentTarget.value })}
          >
            {options(structure.strakes)}
          </select>
        ) : (
          <Line
            label={`${named}, water line`}
            value={one.second}
            onText={(second) => onChange(row, { second })}
          />
        )}
      </td>
      {both && (
        <td>
          <select
            aria-label={`${named}, hand`}
            value={one.side}
            onChange={(event) => onChange(row, { side: event.currentTarget.value as 'P' | 'S' })}
          >
            <option value="P">port</option>
            <option value="S">starboard</option>
          </select>
        </td>
      )}
      <td class="point-error">
        {error === undefined || error === null ? '–' : errorWords(error, structure.unit)}
      </td>
      <td>
        <button type="button" class="point-off" onClick={() => props.onTakeOff(row)}>
          TAKE OFF<span class="spoken"> point {row + 1}</span>
        </button>
      </td>
    </tr>
  );
}

function Line(props: { label: string; value: string; onText: (text: string) => void }) {
  return (
    <input
      type="text"
      inputMode="decimal"
      autocomplete="off"
      aria-label={props.label}
      value={props.value}
      onInput={(event) => props.onText(event.currentTarget.value)}
    />
  );
}

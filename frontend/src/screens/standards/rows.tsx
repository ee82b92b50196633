import { useState } from 'preact/hooks';
import { DeskKey, GradeMark } from '../../furniture';
import type { StandardRow } from '../../services/standards';
import type { Draft } from './draft';
import { RowForm } from './row_form';

const GRADE_WORDS = ['sound', 'light', 'moderate', 'severe', 'beyond limits'];

/** Every row of the standard with its limit and where that is from; one is open to be changed. */
export function Rows({ draft, may_write }: { draft: Draft; may_write: boolean }) {
  const [open, setOpen] = useState<number | null>(null);
  return (
    <table class="standard-rows">
      <thead>
        <tr>
          <th>Rule</th>
          <th>Grade</th>
          <th>Limit</th>
          <th>For</th>
          <th>Basis and source</th>
          <th />
        </tr>
      </thead>
      <tbody>
        {draft.made.rows.map((row, at) => (
          <Line
            // A rule may stand in two rows; their order is that of the file.
            key={`${at} ${row.rule}`}
            {...{ row, at, draft, may_write }}
            is_open={open === at}
            onOpen={() => setOpen(open === at ? null : at)}
          />
        ))}
      </tbody>
    </table>
  );
}

function Line(props: {
  row: StandardRow;
  at: number;
  draft: Draft;
  may_write: boolean;
  is_open: boolean;
  onOpen: () => void;
}) {
  const { row, at, is_open } = props;
  const grade = isGrade(row.grade) ? row.grade : null;
  return (
    <>
      <tr class={is_open ? 'open' : undefined}>
        <th scope="row">{row.rule}</th>
        <td class="standard-grade">
          <GradeMark {...{ grade }} />
          {grade === null ? '–' : GRADE_WORDS[grade]}
        </td>
        <td>
          <b>{row.text}</b>
        </td>
        <td class="standard-for">{forWords(row)}</td>
        <td>
          {row.basis?.text}
          <span class="second-ink">
            {' '}
            {row.basis?.source} [{row.basis?.marker}]
          </span>
        </td>
        <td class="standard-key">
          {props.may_write && (
            <DeskKey
              label={is_open ? 'CLOSE' : 'CHANGE'}
              spoken={`${is_open ? 'Close' : 'Change'} row ${at + 1}, ${row.rule}`}
              onPress={props.onOpen}
            />
          )}
        </td>
      </tr>
      {is_open && (
        <tr class="open">
          <td colSpan={6}>
            <RowForm {...{ row }} onChange={(change) => props.draft.setRow(at, change)} />
          </td>
        </tr>
      )}
    </>
  );
}

function isGrade(grade: unknown): grade is 0 | 1 | 2 | 3 | 4 {
  return [0, 1, 2, 3, 4].includes(grade as number);
}

/** "AL · pitting, surface corrosion and 7 more". */
function forWords({ material, kinds }: StandardRow): string {
  const metal = Array.isArray(material) ? material.join(', ') : 'any material';
  if (!Array.isArray(kinds)) return `${metal} · any kind`;
  const more = kinds.length - 2;
  return `${metal} · ${kinds.slice(0, 2).join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}

import type { ComponentChildren } from 'preact';
import { enteredWords } from '../../domain/place';
import { GRADE_NAMES } from '../../furniture';
import type { DefectRow, Definition, Json } from '../../services/shop';
import { unbroken } from '../frame/unbroken';
import './screen.css';
import './record.css';
import { RecordMark } from '../frame/record_mark';

/** What, where and how bad: number, grade, place, what was decided. */
export function RecordHead(props: {
  row: DefectRow;
  values: Record<string, Json>;
  /** The day of the stage it blocks. */
  stage_date?: string | undefined;
  definition?: Definition | null;
  /** A small picture, while what is asked covers the pictures of the sheet. */
  picture?: ComponentChildren;
}) {
  const { row, values } = props;
  const entered = enteredLine(props.definition ?? null, row);
  return (
    <header class={props.picture ? 'record-head pictured' : 'record-head'}>
      <RecordMark row={row} size={58} />
      <div>
        <h1>{row.number}</h1>
        <p>{gradeLine(row)}</p>
      </div>
      <div>
        <div class="record-first">
          <p class="record-what">{[row.kind_words, row.part].filter(Boolean).join(' · ')}</p>
          <p class="record-state">
            {row.state === 'Offered' ? 'OFFERED FOR INSPECTION' : row.state?.toUpperCase()}
          </p>
        </div>
        <p>
          {unbroken(row.place_words)}
          {row.station_text && ` · ${row.station_text}`}
          {row.zone && ` · ${zoneWords(row)}`}
          {entered && ` · ${unbroken(entered)}`}
        </p>
        <p class="record-decided">{decidedLine(row, values, props.stage_date)}</p>
        {row.also_numbers.length > 0 && <p>also numbered {row.also_numbers.join(', ')}</p>}
        {row.same_as_number && <p>same as {row.same_as_number}</p>}
      </div>
      {props.picture}
    </header>
  );
}

/** "entered as F6 + 15.0 aft": by the definition of today another member is nearer. */
export function enteredLine(
  definition: Definition | null,
  { place }: Pick<DefectRow, 'place'>,
): string | null {
  if (!definition || !place) return null;
  try {
    const words = enteredWords(definition, place);
    return words ? `entered as ${words}` : null;
  } catch {
    // A place may name what the definition has not: another tablet's version.
    return null;
  }
}

/** "Grade 3 severe"; overruled: "Grade 3 (assessed 4)". */
function gradeLine({ grade, grade_known, grade_words, overruled }: DefectRow): string {
  if (overruled) {
    const was = overruled.from_words.replace(/^Grade /, '').toLowerCase();
    return `${grade_words} (assessed ${was})`;
  }
  const name = grade_known && grade !== null ? GRADE_NAMES[grade] : undefined;
  return [grade_words, name].filter(Boolean).join(' ');
}

const CLOSED = new Set(['Cleared', 'Same as', 'Raised in error']);

/** The stage it blocks: nothing once it is closed, where it was put off to while deferred. */
export function stageWords(row: Pick<DefectRow, 'state' | 'stage'>, date?: string): string | null {
  if (CLOSED.has(row.state ?? '')) return null;
  if (!row.stage)
    return row.state === 'Raised' ? 'no stage given yet: Assess gives it' : 'no stage given';
  const words = row.state === 'Deferred' ? 'deferred, before' : 'blocks';
  return `${words} ${row.stage}${date ? `, ${date}` : ''}`;
}

function decidedLine(row: DefectRow, values: Record<string, Json>, date?: string): string {
  const stage = stageWords(row, date);
  const note = typeof values.note === 'string' ? values.note : null;
  return [row.disposition, stage, note].filter(Boolean).join(' · ');
}

/** "zone 111", or "zone 111, reaches 121" of what is longer. */
function zoneWords({ zone, zones }: DefectRow): string {
  const others = (zones ?? []).filter((one) => one !== zone);
  return `zone ${zone}${others.length > 0 ? `, reaches ${others.join(', ')}` : ''}`;
}

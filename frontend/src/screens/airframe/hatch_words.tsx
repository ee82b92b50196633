import { type Box, clearest, type ScaleWindow, textWidth } from '../../furniture';
import { cellName, type Looks } from './cells';
import type { Paper } from './paper';
import type { RowWindow, Structure } from './window';

/** Cells of one strake, in a row, that nobody looked at. */
export interface Run {
  row: number;
  from: number;
  to: number;
}

/** Runs of the same extent that lie on each other. */
interface Field extends Run {
  /** Row after the last of the field. */
  end: number;
}

/** NOT LOOKED AT on its ground, in lines, with the reason where one was given for all of it. */
export interface HatchWords {
  box: Box;
  lines: string[];
  why: string | null;
}

const LINE_PX = 20;
const WIDE_PX = 140;
const NARROW_PX = 96;
/** Strake names stand at the left, the hand at the right. */
const LEFT_PX = 36;
const RIGHT_PX = 34;
const STEP_PX = 12;

/** Stretches of following cells of one strake that nobody looked at, within the window. */
export function unlookedRuns(
  structure: Structure,
  rows: RowWindow,
  window: ScaleWindow,
  looked: Set<string>,
): Run[] {
  const runs: Run[] = [];
  for (let row = rows.low; row < rows.high; row += 1) {
    let open: Run | null = null;
    for (let bay = 0; bay + 1 < structure.members.length; bay += 1) {
      const from = Math.max(Number(structure.members[bay]?.station), window.from);
      const to = Math.min(Number(structure.members[bay + 1]?.station), window.to);
      if (to <= from || looked.has(cellName(bay, row))) open = null;
      else if (open) open.to = to;
      else {
        open = { row, from, to };
        runs.push(open);
      }
    }
  }
  return runs;
}

/** The words of each hand, in its widest field that has a place clear of what is drawn there. */
export function hatchWords(
  structure: Structure,
  runs: readonly Run[],
  looks: Looks,
  paper: Paper,
  taken: readonly Box[],
): HatchWords[] {
  const hands = [runs.filter((run) => run.row < 0), runs.filter((run) => run.row >= 0)];
  return hands.flatMap((own) => {
    const places = fieldsOf(own).flatMap((field) =>
      placesIn(field, blockedAll(structure, field, looks), paper),
    );
    const box = clearest(
      places.map((place) => place.box),
      taken,
    );
    return places.find((place) => place.box === box) ?? [];
  });
}

/** The widest first, of the same width the highest. */
function fieldsOf(runs: readonly Run[]): Field[] {
  const fields: Field[] = [];
  for (const run of runs) {
    const joined = fields.find(
      (one) => one.from === run.from && one.to === run.to && one.end === run.row,
    );
    if (joined) joined.end = run.row + 1;
    else fields.push({ ...run, end: run.row + 1 });
  }
  const size = (field: Field) => (field.to - field.from) * 100 + field.end - field.row;
  return fields.sort((one, other) => size(other) - size(one));
}

/** Where the words could stand in a field, those nearest to its middle first. */
function placesIn(field: Field, why: string | null, paper: Paper): HatchWords[] {
  const left = Math.max(paper.x(field.from), LEFT_PX);
  const right = Math.min(paper.x(field.to), paper.width_px - RIGHT_PX);
  const rows = [paper.y(field.row), paper.y(field.end)];
  const [top, bottom] = [Math.min(...rows), Math.max(...rows)];
  return formsOf(right - left, bottom - top, why).flatMap((form) => {
    const high = LINE_PX * form.lines.length + 6;
    return middles(left, right, form.wide).flatMap((x) =>
      middles(top, bottom, Math.min(high, bottom - top)).map((y) => ({
        ...{ lines: form.lines, why },
        box: {
          left: x - form.wide / 2,
          right: x + form.wide / 2,
          top: y - high / 2,
          bottom: y + high / 2,
        },
      })),
    );
  });
}

/** How the words can be set in so much room. */
function formsOf(wide_px: number, high_px: number, why: string | null) {
  const forms = [
    { lines: ['NOT LOOKED AT'], wide: WIDE_PX },
    { lines: ['NOT', 'LOOKED AT'], wide: NARROW_PX },
  ].filter((form) => form.wide <= wide_px);
  const reason_px = why === null ? 0 : textWidth(why, 16) + 10;
  const told = forms.flatMap((form) => {
    const lines = [...form.lines, why ?? ''];
    const has_room = why !== null && reason_px <= wide_px && LINE_PX * lines.length + 6 <= high_px;
    return has_room ? [{ lines, wide: Math.max(form.wide, reason_px) }] : [];
  });
  return [...told, ...forms];
}

/** Middles of something so long between two ends, the middle one first. */
function middles(from: number, to: number, long: number): number[] {
  const middle = (from + to) / 2;
  const slack = (to - from - long) / 2;
  const found = [middle];
  for (let off = STEP_PX; off <= slack; off += STEP_PX) found.push(middle - off, middle + off);
  return found;
}

/** Why nobody looked at a field, where one reason was given for all of its cells. */
function blockedAll(structure: Structure, field: Field, looks: Looks): string | null {
  const reasons = new Set<string | undefined>();
  for (const [bay, member] of structure.members.slice(0, -1).entries()) {
    const next = Number(structure.members[bay + 1]?.station);
    if (next <= field.from || Number(member.station) >= field.to) continue;
    for (let row = field.row; row < field.end; row += 1)
      reasons.add(looks.blocked.get(cellName(bay, row)));
  }
  const [only, other] = reasons;
  return other === undefined && reasons.size === 1 ? (only ?? null) : null;
}

/** The words as they are drawn. */
export function HatchLetters({ words }: { words: HatchWords }) {
  const { box, lines, why } = words;
  const x = (box.left + box.right) / 2;
  return (
    <>
      <rect
        class="fill-ground"
        x={box.left}
        y={box.top}
        width={box.right - box.left}
        height={box.bottom - box.top}
      />
      {lines.map((line, at) => (
        <text
          key={line}
          class={line === why ? 'px16 mid' : 'bold px16 mid'}
          x={x}
          y={box.top + 18 + LINE_PX * at}
        >
          {line}
        </text>
      ))}
    </>
  );
}

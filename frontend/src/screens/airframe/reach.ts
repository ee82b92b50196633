import { spanTenthNm } from '../../domain/place_stations';
import { TENTH_NM } from '../../domain/quantities';
import { type Box, clearest } from '../../furniture';
import type { DefectRow } from '../../services/shop';
import type { Paper } from './paper';
import { type RowWindow, type Structure, spotOf } from './window';

/** What is seen of a reach, px, and at which edges of the drawing it goes on beyond them. */
interface Seen {
  left: number;
  right: number;
  low: number;
  high: number;
  goes_on: { left: boolean; right: boolean; low: boolean; high: boolean };
}

/** A record that begins before the window: its number, in what is seen of it. */
export interface ReachName {
  number: string;
  box: Box;
}

const NUMBER_PX = 74;
const HALF_PX = 12;
// Right of the line that leads down to the picture.
const FIRST_PX = 58;
const STEP_PX = 12;
// A break stands clear of the names of strakes at the left, of the sheet's frame at the right.
const NAMES_PX = 44;
const FRAME_PX = 14;
const INSET_PX = 4;
const KEEL_PX = 6;

/** Outlines of what reaches from one place to another, as the data of one path. */
export function reachPath(
  structure: Structure,
  rows: RowWindow,
  paper: Paper,
  defects: readonly DefectRow[],
): string {
  const seen = defects.map((row) => seenOf(structure, rows, paper, row));
  return seen.map((one) => (one ? outline(one) : '')).join('');
}

/** Numbers of what begins before the window and so has no mark in it, clear of what is taken. */
export function reachNames(
  structure: Structure,
  rows: RowWindow,
  paper: Paper,
  defects: readonly DefectRow[],
  taken: readonly Box[],
): ReachName[] {
  return defects.flatMap((row) => {
    const seen = seenOf(structure, rows, paper, row);
    if (!seen?.goes_on.left) return [];
    const y = (seen.low + seen.high) / 2;
    const places: Box[] = [];
    for (let left = FIRST_PX; left <= Math.max(FIRST_PX, seen.right - NUMBER_PX); left += STEP_PX)
      places.push({ left, right: left + NUMBER_PX, top: y - HALF_PX, bottom: y + HALF_PX });
    const box = clearest(places, taken);
    return box && row.number ? [{ number: row.number, box }] : [];
  });
}

function seenOf(structure: Structure, rows: RowWindow, paper: Paper, row: DefectRow): Seen | null {
  const { place } = row;
  if (!place?.to || row.structure !== structure.name) return null;
  const [start, end] = ends(structure, place).map(paper.x);
  const across = heights(spotOf(structure, place, 0), rows, paper);
  if (start === undefined || end === undefined || !across) return null;
  const last = paper.width_px;
  if (end < 0 || start > last) return null;
  const goes_on = { left: start < 0, right: end > last, ...across.goes_on };
  const left = goes_on.left ? Math.min(NAMES_PX, Math.max(end - KICK_PX, 0)) : start;
  const right = goes_on.right ? Math.max(last - FRAME_PX, Math.min(left + KICK_PX, last)) : end;
  return { left, right, low: across.low, high: across.high, goes_on };
}

/** Its edges across the drawing, drawn within the strake lines; along the keel line, about it. */
function heights({ from, to }: { from: number; to: number }, rows: RowWindow, paper: Paper) {
  const [low, high] = [Math.max(from, rows.low), Math.min(to, rows.high)];
  if (low > high || (low === high && from !== to)) return null;
  const towards = Math.sign(paper.y(1) - paper.y(0));
  const within = (from === to ? -KEEL_PX : INSET_PX) * towards;
  const goes_on = { low: from < rows.low, high: to > rows.high };
  return {
    low: paper.y(low) + (goes_on.low ? 0 : within),
    high: paper.y(high) - (goes_on.high ? 0 : within),
    goes_on,
  };
}

function outline({ left, right, low, high, goes_on }: Seen): string {
  const start = `M${left.toFixed(1)} ${low}`;
  const along = (y: number, from: number, to: number, is_broken: boolean) =>
    `${is_broken ? breakAlong(y, from, to) : ''}H${to.toFixed(1)}`;
  const across = (x: number, from: number, to: number, is_broken: boolean) =>
    `${is_broken ? breakAcross(x, from, to) : ''}V${to}`;
  const closing = goes_on.left ? across(left, high, low, true) : '';
  return [
    ...[start, along(low, left, right, goes_on.low), across(right, low, high, goes_on.right)],
    ...[along(high, right, left, goes_on.high), closing, 'Z'],
  ].join('');
}

const KICK_PX = 9;
const BREAK_PX = 12;

/** The sign of a drawing that something goes on: a line that kicks out to both sides. */
function breakAcross(x: number, from: number, to: number): string {
  const [middle, step] = middleOf(from, to);
  const out = `L${(x + KICK_PX).toFixed(1)} ${middle - step / 2}`;
  const back = `L${(x - KICK_PX).toFixed(1)} ${middle + step / 2}`;
  return `V${middle - step}${out}${back}L${x.toFixed(1)} ${middle + step}`;
}

function breakAlong(y: number, from: number, to: number): string {
  const [middle, step] = middleOf(from, to);
  const at = (x: number) => x.toFixed(1);
  const out = `L${at(middle - step / 2)} ${y + KICK_PX}L${at(middle + step / 2)} ${y - KICK_PX}`;
  return `H${at(middle - step)}${out}L${at(middle + step)} ${y}`;
}

const middleOf = (from: number, to: number): [number, number] => [
  (from + to) / 2,
  Math.sign(to - from) * Math.min(BREAK_PX, Math.abs(to - from) / 2),
];

/** Stations of both ends, or none where a member is gone. */
function ends(structure: Structure, place: NonNullable<DefectRow['place']>): number[] {
  try {
    return spanTenthNm(structure, place).map(
      (end) => Number(end) / Number(TENTH_NM[structure.unit]),
    );
  } catch {
    return [];
  }
}

import { spanTenthNm } from '../../domain/place_stations';
import { TENTH_NM } from '../../domain/quantities';
import type { DefectRow } from '../../services/shop';
import type { Paper } from './paper';
import { type RowWindow, type Structure, spotOf } from './window';

/** Outlines of what reaches from one place to another, as the data of one path. */
export function reachPath(
  structure: Structure,
  rows: RowWindow,
  paper: Paper,
  defects: readonly DefectRow[],
): string {
  return defects.map((row) => outline(structure, rows, paper, row)).join('');
}

function outline(structure: Structure, rows: RowWindow, paper: Paper, row: DefectRow): string {
  const { place } = row;
  if (!place?.to || row.structure !== structure.name) return '';
  const [left, right] = ends(structure, place).map((end) =>
    Math.min(Math.max(paper.x(end), 0), paper.width_px).toFixed(1),
  );
  const { from, to } = spotOf(structure, place, 0);
  const [low, high] = [Math.max(from, rows.low), Math.min(to, rows.high)];
  if (left === undefined || low >= high) return '';
  return `M${left} ${paper.y(low)}H${right}V${paper.y(high)}H${left}Z`;
}

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

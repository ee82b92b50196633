/** What a key does to a description besides typing: order and another datum. */

import { type Description, figureText, isBlank, type Plain, type Row } from './airframe_rows';
import type { Json } from './shop';

/** Members in order of station; what is no figure keeps its place at the end. */
export function inOrder(members: readonly Row[]): Row[] {
  const station = (row: Row) => {
    const text = figureText(row.station ?? '');
    return text === '' || Number.isNaN(Number(text)) ? Number.POSITIVE_INFINITY : Number(text);
  };
  return members
    .filter((row) => !isBlank(row))
    .map((row, at) => ({ row, at }))
    .sort((one, two) => station(one.row) - station(two.row) || one.at - two.at)
    .map(({ row }) => row);
}

/** Members read from a list put among those that stand. */
export interface Joined {
  members: Row[];
  /** Names that stood already: the line read stands in place of theirs. */
  replaced: string[];
  added: Row[];
}

/**
 * A line of the same name replaces the standing one where it stands, big and small letters alike,
 * and whatever no table shows of it stays; a line of a new name comes at the end. Of two standing
 * lines of one name the first is replaced and the other goes.
 */
export function joinMembers(standing: readonly Row[], read: readonly Row[]): Joined {
  const key = (row: Row) => (row.name ?? '').trim().toLowerCase();
  const by_name = new Map(read.map((row) => [key(row), row]));
  const put = new Set<string>();
  const members = standing
    .filter((row) => !isBlank(row))
    .flatMap((row) => {
      const one = by_name.get(key(row));
      if (!one) return [row];
      if (put.has(key(row))) return [];
      put.add(key(row));
      return [row.kept ? { ...one, kept: row.kept } : one];
    });
  const [stood, added] = [
    read.filter((row) => put.has(key(row))),
    read.filter((row) => !put.has(key(row))),
  ];
  return { members: [...members, ...added], replaced: stood.map((row) => row.name ?? ''), added };
}

/** Moves the datum of a structure: every station on it by the same figure. What is drawn moves the
 * other way on its drawing, so that it stays where it is on the metal. */
export function moveDatum(description: Description, at: number, by: string): Description {
  const structure = description.structures[at];
  const shift = figureText(by);
  if (!structure || Number.isNaN(Number(shift)) || Number(shift) === 0) return description;
  const moved = (text: string | undefined) => shifted(text ?? '', shift);
  const members = structure.members.map(
    (row): Row => ({
      ...row,
      station: moved(row.station),
      ...(row.upper_station ? { upper_station: moved(row.upper_station) } : {}),
    }),
  );
  const names = new Set(members.map((row) => row.name?.trim()));
  const bound = (text: string | undefined) =>
    names.has(text?.trim()) ? (text ?? '') : moved(text);
  const isOn = (row: Row) =>
    row.structure === structure.name || (description.structures.length === 1 && !row.structure);
  return {
    ...description,
    structures: description.structures.map((one, place) =>
      place === at ? { ...structure, members } : one,
    ),
    zones: description.zones.map((row) =>
      isOn(row) ? { ...row, from: bound(row.from), to: bound(row.to) } : row,
    ),
    views: description.views.map((view) => movedView(view as Plain, structure.name, Number(shift))),
    kept: at === 0 ? movedHeights(description.kept, shift) : description.kept,
  };
}

/** A station that is no figure stays as it is typed; decimals are added as decimals. */
export function shifted(text: string, by: string): string {
  const figure = figureText(text);
  if (!/^-?\d*\.?\d+$/.test(figure)) return text;
  const places = Math.max(placesOf(figure), placesOf(by));
  const scale = 10n ** BigInt(places);
  const sum = wholeOf(figure, places) + wholeOf(by, places);
  const [sign, size] = sum < 0n ? ['-', -sum] : ['', sum];
  const rest = places > 0 ? `.${String(size % scale).padStart(places, '0')}` : '';
  return `${sign}${size / scale}${rest}`;
}

function placesOf(figure: string): number {
  return figure.split('.')[1]?.length ?? 0;
}

function wholeOf(figure: string, places: number): bigint {
  const [whole = '0', rest = ''] = figure.replace('-', '').split('.');
  const size = BigInt(`${whole || '0'}${rest.padEnd(places, '0')}`);
  return figure.startsWith('-') ? -size : size;
}

function movedView(view: Plain, structure: string, shift: number): Json {
  if (view.structure !== structure) return view;
  const moved: Plain = { ...view };
  const x = view.x as { origin: number; per_unit: number } | undefined;
  if (x) moved.x = { ...x, origin: round(x.origin - x.per_unit * shift) };
  const calibration = view.calibration as Plain | undefined;
  if (calibration) moved.calibration = movedCalibration(calibration, shift);
  return moved;
}

/** (along, second, 1) → picture pixels: the matrix takes the shift out again. */
function movedCalibration(calibration: Plain, shift: number): Plain {
  const matrix = (calibration.to_picture as (number | string)[]).map(Number);
  const column = [0, 3, 6].map((row) => matrix[row] as number);
  const to_picture = matrix.map((value, at) =>
    at % 3 === 2 ? value - (column[Math.floor(at / 3)] as number) * shift : value,
  );
  const pinned = (point: Json) => {
    const { at, ...rest } = point as { at: [number, number] } & Plain;
    return { ...rest, at: [Number(at[0]) + shift, at[1]] } as Json;
  };
  const { points, check } = calibration;
  return {
    ...calibration,
    to_picture,
    ...(Array.isArray(points) ? { points: points.map(pinned) } : {}),
    ...(check ? { check: pinned(check) } : {}),
  };
}

/** Heights of a profile stand at stations of the first structure. */
function movedHeights(kept: string, shift: string): string {
  if (!kept) return kept;
  const plain = JSON.parse(kept) as Plain;
  const rows = plain.profile_heights;
  if (!Array.isArray(rows)) return kept;
  const profile_heights = rows.map((row) => {
    const height = row as Record<string, string>;
    return { ...height, station: shifted(height.station ?? '', shift) };
  });
  return JSON.stringify({ ...plain, profile_heights });
}

function round(value: number): number {
  return Math.round(value * 1e6) / 1e6;
}

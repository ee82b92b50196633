/** Points of a picture as a lead types them, and the view that they come to. */

import type { PictureView, Structure, TouchedPoint } from '../../domain/place';

/** One known point: where it was touched, and what it is, as typed. */
export interface Known {
  px: [number, number] | null;
  /** Name of a member, and how far past it; or a station alone. */
  member: string;
  offset: string;
  /** Name of a strake, or a water line. */
  second: string;
  /** Which side of the keel, on a view of both hands. */
  side: 'P' | 'S';
  /** The one point that the fit does not use. */
  is_check: boolean;
}

export interface Drawing {
  title: string;
  structure: string;
  hand: '' | 'P' | 'S' | 'C';
  sheet: string;
  issue: string;
  second: 'water line' | 'strake';
  method: '' | 'similarity' | 'affine' | 'homography';
  limit: string;
  picture: PictureView['picture'] | null;
  points: Known[];
}

export const NO_POINT: Known = {
  ...{ px: null, member: '', offset: '', second: '', side: 'P', is_check: false },
};

export const NEW: Omit<Drawing, 'structure' | 'second'> = {
  ...{ title: '', hand: '', sheet: '', issue: '', method: '', limit: '0.5' },
  ...{ picture: null, points: [] },
};

export interface Fitted {
  method: PictureView['calibration']['method'];
  to_picture: number[];
  rms: number;
  errors: number[];
  fitted_px: [number, number][];
  check_error: number | null;
  check_px: [number, number] | null;
  span: number;
  limit: number;
  mirrored: boolean;
  forward: 'left' | 'right' | 'up' | 'down' | null;
  troubles: { code: string; message: string; hint: string; weight: 'refused' | 'said' }[];
}

/** A drawing that nobody has calibrated yet. */
export function newDrawing(structure: Structure): Drawing {
  const second = structure.strakes.length > 1 ? 'strake' : 'water line';
  return { ...NEW, structure: structure.name, second };
}

/** Where a point is, along and second axis; null while something of it is not said. */
export function placeOf(
  drawing: Drawing,
  structure: Structure,
  one: Known,
): [number, number] | null {
  const along = alongOf(structure, one);
  const second = secondOf(drawing, structure, one);
  return along === null || second === null ? null : [along, second];
}

function alongOf(structure: Structure, { member, offset }: Known): number | null {
  const found = structure.members.find((one) => one.name === member);
  const by = offset.trim() === '' ? 0 : figureOf(offset);
  if (by === null || (!found && (member !== '' || offset.trim() === ''))) return null;
  return Number(found?.station ?? 0) + by;
}

function secondOf(drawing: Drawing, structure: Structure, one: Known): number | null {
  if (drawing.second === 'water line') return figureOf(one.second);
  const line = structure.strakes.indexOf(one.second);
  if (line < 0) return null;
  return line > 0 && isOfBoth(drawing, structure) && one.side === 'P' ? -line : line;
}

/** Whether port and starboard both lie on the picture, on either side of the keel line. */
export function isOfBoth(drawing: Drawing, structure: Structure): boolean {
  const { hands } = structure;
  return drawing.second === 'strake' && !drawing.hand && hands.includes('P') && hands.includes('S');
}

function figureOf(text: string): number | null {
  const figure = text.trim().replaceAll('\u2212', '-').replace(',', '.');
  return /^[+-]?\d*\.?\d+$/.test(figure) ? Number(figure) : null;
}

/** The points that are whole, with their place in the table. */
export function wholePoints(drawing: Drawing, structure: Structure) {
  return drawing.points.flatMap((one, row) => {
    const at = placeOf(drawing, structure, one);
    return one.px && at ? [{ row, is_check: one.is_check, point: { px: one.px, at } }] : [];
  });
}

const LEAST = { similarity: 2, affine: 3, homography: 4 };

/** How many points the fit needs: strakes have no length, so two of them tell no scale. */
export function leastPoints({ method, second }: Drawing): number {
  if (method) return LEAST[method];
  return second === 'strake' ? 3 : 2;
}

/** What is sent to be fitted; null while there are too few points. */
export function asked(drawing: Drawing, structure: Structure) {
  const whole = wholePoints(drawing, structure);
  const points = whole.filter((one) => !one.is_check).map(({ point }) => point);
  const check = whole.find((one) => one.is_check)?.point;
  if (points.length < leastPoints(drawing)) return null;
  return {
    ...{ points, second: drawing.second, positive: structure.positive, unit: structure.unit },
    ...(check ? { check } : {}),
    ...(drawing.method ? { method: drawing.method } : {}),
    ...(drawing.hand ? { hand: drawing.hand } : {}),
    limit_percent: figureOf(drawing.limit) ?? 0.5,
  };
}

/** Why a drawing can't be kept yet; null: it can. */
export function lacks(drawing: Drawing, fitted: Fitted | null): string | null {
  if (!drawing.picture) return 'first a file';
  if (drawing.title.trim() === '') return 'first its title';
  if (!fitted) return 'first its points';
  return fitted.troubles.find(({ weight }) => weight === 'refused')?.message ?? null;
}

/** The view of a definition that a drawing has become. */
export function viewOf(
  drawing: Drawing,
  structure: Structure,
  fitted: Fitted,
  signed: { name: string; by: string; date: string },
): PictureView {
  const sent = asked(drawing, structure) as { points: TouchedPoint[]; check?: TouchedPoint };
  const limit = figureOf(drawing.limit) ?? 0.5;
  return {
    ...{ name: signed.name, title: drawing.title.trim(), structure: structure.name },
    ...(drawing.hand ? { hand: drawing.hand } : {}),
    ...{ sheet: drawing.sheet.trim(), issue: drawing.issue.trim() },
    ...(fitted.forward ? { forward: fitted.forward } : {}),
    picture: drawing.picture as PictureView['picture'],
    second: drawing.second,
    calibration: {
      ...{ method: fitted.method, to_picture: fitted.to_picture, points: sent.points },
      ...(sent.check ? { check: sent.check } : {}),
      ...{ rms: fitted.rms, span: fitted.span },
      ...(fitted.check_error === null ? {} : { check_error: fitted.check_error }),
      ...(limit === 0.5 ? {} : { limit_percent: limit }),
      ...(drawing.second === 'strake' ? { strakes: structure.strakes } : {}),
      ...{ by: signed.by, date: signed.date },
    },
  };
}

/** A view as it could have been typed. */
export function drawingOf(view: PictureView, structure: Structure): Drawing {
  const { calibration } = view;
  const points = calibration.points.map((one) => knownOf(view, structure, one, false));
  const check = calibration.check ? [knownOf(view, structure, calibration.check, true)] : [];
  return {
    ...{ title: view.title, structure: view.structure, hand: view.hand ?? '' },
    ...{ sheet: view.sheet ?? '', issue: view.issue ?? '', second: view.second },
    method: calibration.method,
    limit: String(calibration.limit_percent ?? 0.5),
    picture: view.picture,
    points: [...points, ...check],
  };
}

function knownOf(
  view: PictureView,
  structure: Structure,
  { px, at }: TouchedPoint,
  is_check: boolean,
): Known {
  const [along, second] = [Number(at[0]), Number(at[1])];
  const before = structure.members.filter((one) => Number(one.station) <= along + 1e-9).at(-1);
  const offset = Number((along - Number(before?.station ?? 0)).toFixed(4));
  const strake = structure.strakes[Math.abs(second)] ?? '';
  return {
    px: [Number(px[0]), Number(px[1])],
    member: before?.name ?? '',
    offset: offset === 0 && before ? '' : String(offset),
    second: view.second === 'strake' ? strake : String(second),
    side: second < 0 || view.hand === 'P' ? 'P' : 'S',
    is_check,
  };
}

/** A name for a view that no other of the definition has: its sheet and issue say which it is. */
export function nameFor(drawing: Drawing, taken: readonly string[]): string {
  const sheet = drawing.sheet.trim();
  const plain = sheet
    ? `sheet ${sheet} issue ${drawing.issue.trim() || '–'}`
    : drawing.title.trim();
  let name = plain;
  for (let more = 2; taken.includes(name); more += 1) name = `${plain} (${more})`;
  return name;
}

/** "0.12 in", two figures of it. */
export function errorWords(error: number, unit: string): string {
  const shown = error < 0.005 ? '0.00' : Number(error.toPrecision(2)).toString();
  return `${shown} ${unit}`;
}

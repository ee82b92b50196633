/** What is being measured on a photograph: mode, points, and what they come to. */

import { useEffect, useRef, useState } from 'preact/hooks';
import { Refused } from '../../domain/errors';
import {
  type Measured,
  type MeasuredShape,
  measured,
  type Scale,
} from '../../domain/photo_measure';
import type { Quantity, Unit } from '../../domain/quantities';
import type { Json, Session, Shop } from '../../services/shop';
import { useLive } from '../live';
import type { Picture } from '../photograph/pictures';
import {
  figuresFrom,
  type MeasurementHere,
  measurementsOf,
  type ScaleHere,
  type Stranded,
  scaleOf,
  strandedOf,
} from './acts';
import { LEAST, MOST, NOTHING_PLACED, type Placing, tapOf, tenths } from './placing';
import { MOST_SCALE_POINTS, type ScaleDraft, type ScaleKind } from './scales';

export type Shape = MeasuredShape | 'outline';

export type Mode =
  | { at: 'measure'; shape: Shape }
  | { at: 'scale' }
  /** Typing the figures of a scale; `kind` null: the bar of the printed card. */
  | { at: 'figures'; kind: ScaleKind | null; typed: Quantity[] }
  | { at: 'points'; draft: ScaleDraft; touch: string };

/** What stands on the picture. */
export interface Standing {
  scale: ScaleHere | null;
  measurements: MeasurementHere[];
  /** Fields of the defect that rest on one of them, by its record. */
  uses: Record<string, string>;
  /** Figures that another tablet took from a scale while it was struck. */
  stranded: Stranded | null;
}

/** A value, or why there is none yet. */
export type Told = { told: Measured } | { why: string; hint: string };

export interface Measuring {
  mode: Mode;
  setMode: (mode: Mode) => void;
  placing: Placing;
  place: (placing: Placing) => void;
  standing: Standing | undefined;
  unit: Unit;
  setUnit: (unit: Unit) => void;
  /** A kept measurement that keys act on, while nothing is placed. */
  chosen: MeasurementHere | null;
  choose: (record: string | null) => void;
  /** Points that this mode takes, and needs. */
  most: number;
  least: number;
  /** What is placed, or the measurement chosen, comes to. */
  now: Told | null;
  toldOf: (measurement: MeasurementHere) => Told;
}

export function useMeasuring(shop: Shop, picture: Picture, defect: string): Measuring {
  const { mode, placing, put } = useBegun(shop, picture.record);
  const [unit, setUnit] = useState<Unit>(shop.definition?.unit === 'mm' ? 'mm' : 'in');
  const [record, choose] = useState<string | null>(null);
  const standing = useLive(shop, () => standingOf(shop, picture.record, defect), [picture.record]);
  const kept = standing?.measurements ?? [];
  const chosen = kept.find((one) => one.record === record) ?? kept.at(-1) ?? null;
  const scale = standing?.scale ?? null;
  const toldOf = (one: MeasurementHere) => tell(scale, one, picture, unit);
  const setMode = (next: Mode) => {
    const keeps = mode.at === 'measure' && next.at === 'measure';
    const fits = keeps && placing.points.length <= MOST[next.shape];
    put({ mode: next, placing: fits ? placing : NOTHING_PLACED });
  };
  const place = (next: Placing) => put({ placing: next });
  const { most, least } = countsOf(mode);
  return {
    ...{ mode, setMode, placing, place, standing, unit, setUnit, chosen, choose, most, least },
    toldOf,
    now: nowOf(mode, placing, scale, picture, unit, chosen),
  };
}

interface Begun {
  mode: Mode;
  placing: Placing;
}

const NOTHING_BEGUN: Begun = { mode: { at: 'measure', shape: 'length' }, placing: NOTHING_PLACED };

/** What is being placed on a photograph: kept in this browser at every touch. */
function useBegun(shop: Shop, photograph: string) {
  const [begun, setBegun] = useState(NOTHING_BEGUN);
  // Two changes of one touch follow each other before anything is drawn.
  const last = useRef(begun);
  const name = `measuring:${photograph}`;
  const { session } = shop;
  const show = (next: Begun) => {
    last.current = next;
    setBegun(next);
  };
  useEffect(() => {
    if (!session) return;
    shop.drafts.read<Json>(session, name).then(
      (found) => isBegun(found) && last.current === NOTHING_BEGUN && show(found),
      () => undefined,
    );
  }, [shop, session?.person, name]);
  const put = (change: Partial<Begun>) => {
    const next = { ...last.current, ...change };
    show(next);
    if (!session) return;
    if (next.placing.points.length === 0) void shop.drafts.clear(session, name);
    else void shop.drafts.write(session, name, next as unknown as Json);
  };
  return { ...begun, put };
}

/** Points that an earlier build kept, which did not know how coarsely they were seen, are not. */
function isBegun(found: unknown): found is Begun {
  const points = (found as Partial<Begun> | null)?.placing?.points;
  return Array.isArray(points) && points.every((one) => one?.grain !== undefined);
}

async function standingOf(shop: Shop, photograph: string, defect: string): Promise<Standing> {
  const scale = await scaleOf(shop, photograph);
  const measurements = await measurementsOf(shop, photograph, scale);
  const figures = await figuresFrom(shop, defect, new Set(measurements.map((one) => one.record)));
  const uses = figures.map(({ field, figure }) => [figure.measurement, field]);
  const stranded = await strandedOf(shop, photograph, defect);
  return { scale, measurements, uses: Object.fromEntries(uses), stranded };
}

function countsOf(mode: Mode): { most: number; least: number } {
  if (mode.at === 'measure') return { most: MOST[mode.shape], least: LEAST[mode.shape] };
  const count = mode.at === 'points' ? MOST_SCALE_POINTS[mode.draft.method] : 0;
  return { most: count, least: count };
}

function nowOf(
  mode: Mode,
  placing: Placing,
  scale: Scale | null,
  picture: Picture,
  unit: Unit,
  chosen: MeasurementHere | null,
): Told | null {
  if (mode.at !== 'measure' || mode.shape === 'outline') return null;
  const { points } = placing;
  if (points.length === 0) return chosen && tell(scale, chosen, picture, unit);
  if (scale && points.length < LEAST[mode.shape]) return null;
  const one = { shape: mode.shape, points: tenths(points), tap: tapOf(points) };
  return tell(scale, one, picture, unit);
}

/** Measurements whose words stand on a picture: those in use, else the last; all would hide it. */
export function worded({ measurements, uses }: Standing): ReadonlySet<string> {
  const used = measurements.filter(({ record }) => uses[record] !== undefined);
  return new Set((used.length > 0 ? used : measurements.slice(-1)).map(({ record }) => record));
}

/** What a measurement comes to, or the sentence that refuses it. */
export function tell(
  scale: Scale | null,
  measurement: Parameters<typeof measured>[1],
  picture: Picture,
  unit: Unit,
): Told {
  try {
    return { told: measured(scale, measurement, picture, unit) };
  } catch (error) {
    if (error instanceof Refused) return { why: error.message, hint: error.hint };
    throw error;
  }
}

/** The session that writes; nobody measures signed out. */
export function signedIn(shop: Shop): Session {
  if (!shop.session) throw new Refused('not_signed_in', 'Nobody is signed in.', 'Sign in first.');
  return shop.session;
}

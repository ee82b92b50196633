/** What is laid beside a defect to give it a scale. */

import { Refused } from '../../domain/errors';
import type { Scale } from '../../domain/photo_measure';
import type { Quantity, Unit } from '../../domain/quantities';
import type { FoundCard } from '../../services/scale_card';

/** A scale before its points are touched. */
export type ScaleDraft = Omit<Scale, 'points' | 'tap'>;

export interface ScaleKind {
  label: string;
  second: string;
  object: string;
  method: 'two points' | 'rectangle';
  /** Figures that are typed first, in the order asked. */
  asks: readonly { field: 'length' | 'width' | 'height'; words: string }[];
  known?: { width: Quantity; height: Quantity };
  /** What to touch. */
  touch: string;
}

const mm = (value: string, doubt: string): Quantity => ({
  ...{ value, unit: 'mm' },
  uncertainty: { value: doubt, unit: 'mm' },
});

export const BANK_CARD = 'bank card';

export const SCALE_KINDS: readonly ScaleKind[] = [
  {
    label: 'TWO POINTS',
    second: 'a rule laid flat',
    object: 'scale',
    method: 'two points',
    asks: [{ field: 'length', words: 'Distance of the two points' }],
    touch: 'Touch both points.',
  },
  {
    label: 'BANK CARD',
    second: '85.60 × 53.98 mm',
    object: BANK_CARD,
    method: 'rectangle',
    asks: [],
    // ISO/IEC 7810 ID-1: 85.47–85.72 × 53.92–54.03 mm, from memory.
    known: { width: mm('85.60', '0.13'), height: mm('53.98', '0.06') },
    touch: 'Touch its corners where its edges would meet: upper left, then round clockwise.',
  },
  {
    label: 'FOUR RIVETS',
    second: 'pitch × row pitch',
    object: 'rivet pitch',
    method: 'rectangle',
    asks: [
      { field: 'width', words: 'Pitch along the row' },
      { field: 'height', words: 'Pitch from row to row' },
    ],
    touch: 'Touch four rivets: upper left, then along the row, then round clockwise.',
  },
];

export const MOST_SCALE_POINTS = { 'two points': 2, rectangle: 4, 'scale card': 4 } as const;

/** Millimetres that the bar of the printed card may be: its 100, as printers shrink or stretch. */
const BAR_MM = { least: 90, most: 110 } as const;

/** A figure of a scale as it was typed: sure to half of its last place, common practice, no source. */
export function typedFigure(value: string, unit: Unit): Quantity {
  const places = value.split('.')[1]?.length ?? 0;
  return {
    value,
    unit,
    uncertainty: { value: (5 / 10 ** (places + 1)).toFixed(places + 1), unit },
  };
}

/** `typed`: in the order asked, each in the unit that it was typed in. */
export function draftOf(kind: ScaleKind, typed: readonly Quantity[]): ScaleDraft {
  const figures = kind.asks.map(({ field }, at) => [field, typed[at]]);
  const { object, method } = kind;
  return { object, method, ...kind.known, ...Object.fromEntries(figures) };
}

/** Refuses a length of the card's bar that no printer makes of 100 mm: typed wrong, or in inches. */
export function refuseBar(measured: string): void {
  const { least, most } = BAR_MM;
  if (Number(measured) >= least && Number(measured) <= most) return;
  throw new Refused(
    'odd_bar',
    `${measured} mm is not near the 100 mm that the bar of the card is.`,
    `Measure the bar with a rule, in mm: ${least} to ${most} mm can be.`,
  );
}

/** What the bar of the card was measured at last, of scales that were not struck; "" if never. */
export function lastBarOf(scales: readonly Readonly<Record<string, unknown>>[]): string {
  const standing = scales.filter(({ struck }) => struck !== true);
  const told = standing.map(({ card }) => (card as { measured?: unknown } | null)?.measured);
  return told.filter((one): one is string => typeof one === 'string').at(-1) ?? '';
}

/** A scale from the printed card: its size as its own bar was measured. */
export function scaleOfCard(
  card: FoundCard,
  layout: { width_mm: number; height_mm: number; bar_mm: number; issue: string; corner_px: string },
  measured: string,
): Scale {
  const { uncertainty } = typedFigure(measured, 'mm');
  const sized = (size_mm: number): Quantity => {
    const of_bar = size_mm / layout.bar_mm;
    // Rounded up: a ± made smaller says more than is known.
    const doubt = Math.ceil(of_bar * Number(uncertainty?.value) * 1000 - 1e-9) / 1000;
    return mm((of_bar * Number(measured)).toFixed(3), doubt.toFixed(3));
  };
  return {
    method: 'scale card',
    object: 'scale card',
    points: card.corners.map(([x, y]) => [Math.round(x * 10), Math.round(y * 10)] as const),
    width: sized(layout.width_mm),
    height: sized(layout.height_mm),
    tap: layout.corner_px,
    card: { id: layout.issue, measured, residual_px: card.residual_px.toFixed(2) },
  };
}

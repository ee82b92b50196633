import { describe, expect, it } from 'vitest';
import type { Scale } from '../../../frontend/src/domain/photo_measure.ts';
import { CARD } from '../../../frontend/src/domain/scale_card.ts';
import { scaleWords } from '../../../frontend/src/screens/measuring/drawn.tsx';
import {
  draftOf,
  SCALE_KINDS,
  type ScaleKind,
  scaleOfCard,
  typedFigure,
} from '../../../frontend/src/screens/measuring/scales.ts';

const [points, bank] = SCALE_KINDS as [ScaleKind, ScaleKind];
const card = (bar: string) => scaleOfCard({ corners: [], residual_px: 0, ids: [] }, CARD, bar);

describe('the words of a scale', () => {
  it('say the length of two points as it was typed, with its ±', () => {
    const scale = draftOf(points, [typedFigure('3.00', 'in')]) as Scale;
    expect(scaleWords(scale)).toBe('scale 3.00 ± 0.005 in');
  });

  it('say the unit of both sides once', () => {
    expect(scaleWords(draftOf(bank, []) as Scale)).toBe('bank card 85.60 ± 0.13 × 53.98 ± 0.06 mm');
  });

  it('say no more figures of the printed card than its bar gives', () => {
    expect(scaleWords(card('100'))).toBe('scale card 80.0 ± 0.4 × 50.00 ± 0.25 mm');
    expect(scaleWords(card('99.8'))).toBe('scale card 79.84 ± 0.04 × 49.900 ± 0.025 mm');
  });
});

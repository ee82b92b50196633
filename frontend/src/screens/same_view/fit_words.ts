/** What a fit comes to, in sentences for whoever takes or compares the pictures. */

import { fitOf, type SameView } from '../../domain/same_view';
import { decimalText, fitWords, isGood } from '../../domain/same_view_words';
import type { Json } from '../../services/shop';
import { capital } from '../frame/words';

export interface FitSaid {
  /** How it lies on the earlier one: "turned 1.2° anticlockwise, 0.8 % smaller". */
  head: string;
  good: boolean;
  /** Whether it is good enough, and what to do if not. */
  verdict: string;
  /** Where the middle lies, and by how much the rivets miss. */
  more: string;
}

/** A fit that was just touched or offered. */
export function viewSaid(view: SameView): FitSaid {
  const [right, down] = view.shift_px;
  const side = (px: number, plus: string, minus: string) =>
    `${decimalText(Math.abs(px), 1)} px ${px < 0 ? minus : plus}`;
  const off = `laid on the earlier picture, its middle ${side(right, 'right', 'left')}, ${side(down, 'down', 'up')}`;
  const miss =
    view.residual_px > 0 ? `; rivets miss by ${decimalText(view.residual_px, 1)} px` : '';
  return {
    head: fitWords(fitOf(view, 'three rivets')),
    good: view.good && view.alike,
    verdict: verdictOf(view),
    more: `${off}${miss}`,
  };
}

function verdictOf({ good, alike, turn_deg, scale_percent }: SameView): string {
  if (!alike)
    return 'The rivets miss each other by more than 2 % of the picture, which no careful touch does: are they the same three, on flat metal? Touch them again.';
  if (good) return GOOD;
  const hints = [turnHint(turn_deg), scaleHint(scale_percent)].filter(Boolean).join(', ');
  return `Not good enough to compare. ${capital(hints)}.`;
}

const GOOD = 'Good enough to compare.';

/** Why a fit can't be kept as it is; undefined where it can. */
export function notKept(view: Pick<SameView, 'alike'> | null): string | undefined {
  return view && !view.alike ? 'rivets miss:\ntouch them again' : undefined;
}

/** What is shown is turned one way, so the camera was turned the other way. */
function turnHint(turn_deg: number): string {
  if (Math.abs(turn_deg) <= 5) return '';
  return `turn the tablet ${decimalText(Math.abs(turn_deg), 1)}° ${turn_deg > 0 ? 'clockwise' : 'anticlockwise'}`;
}

function scaleHint(scale_percent: number): string {
  if (Math.abs(scale_percent) <= 5) return '';
  return `go ${scale_percent > 0 ? 'farther off' : 'nearer'}`;
}

/** A fit that is kept with a photograph; null where there is none that can be read. */
export function keptSaid(fit: Json): FitSaid | null {
  const head = fitWords(fit);
  if (!head) return null;
  const { residual_px, by } = fit as { residual_px?: Json; by?: Json };
  const good = isGood(fit);
  const how = by === 'registration' ? 'laid by the server and accepted' : `by ${String(by)}`;
  const miss = by !== 'registration' && typeof residual_px === 'string' ? residual_px : '';
  return {
    head,
    good,
    verdict: good ? GOOD : 'Not good enough to compare.',
    more: miss ? `${how}, which miss by ${miss} px` : how,
  };
}

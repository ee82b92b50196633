/** How one photograph lies on another, as words: what is kept of a fit, read for people. */

// Where two pictures serve to show a change: field notes of the trade, no published source.
const GOOD_TURN_DEG = 5;
const GOOD_SCALE_PERCENT = 5;

/** How a picture lies on the earlier one by a kept fit, "turned 1.2° anticlockwise, 0.8 % smaller";
empty where it can't be read. A fit keeps what the picture shows against the earlier one; laid on
that one, the picture itself lies turned the other way, and the smaller the larger it shows the metal. */
export function fitWords(fit: unknown): string {
  const given = fieldsOf(fit);
  const [turn, scale] = [numberOf(given.turn_deg), numberOf(given.scale_percent)];
  if (turn === null || scale === null || scale <= -100) return '';
  const turned = decimalText(Math.abs(turn), 1);
  const size = 100 * (100 / (100 + scale) - 1);
  const sized = decimalText(Math.abs(size), 1);
  const way = turn > 0 ? 'anticlockwise' : 'clockwise';
  const words = turned === '0.0' ? 'not turned' : `turned ${turned}° ${way}`;
  const larger = size > 0 ? 'larger' : 'smaller';
  return `${words}, ${sized === '0.0' ? 'of the same size' : `${sized} % ${larger}`}`;
}

/** Whether a kept fit is good enough to compare by. */
export function isGood(fit: unknown): boolean {
  const given = fieldsOf(fit);
  const [turn, scale] = [numberOf(given.turn_deg), numberOf(given.scale_percent)];
  if (turn === null || scale === null) return false;
  return isNear(turn, scale);
}

/** Whether a turn and a scale are good enough to compare by. */
export function isNear(turn_deg: number, scale_percent: number): boolean {
  return Math.abs(turn_deg) <= GOOD_TURN_DEG && Math.abs(scale_percent) <= GOOD_SCALE_PERCENT;
}

/** A number with so many decimals, half away from nought; never a nought with a minus. */
export function decimalText(number: number, places: number): string {
  const whole = Math.floor(Math.abs(number) * 10 ** places + 0.5);
  const figures = BigInt(whole)
    .toString()
    .padStart(places + 1, '0');
  const sign = number < 0 && whole > 0 ? '-' : '';
  return `${sign}${figures.slice(0, -places)}.${figures.slice(-places)}`;
}

/** A mapping as it is, anything else as an empty one. */
export function fieldsOf(value: unknown): Record<string, unknown> {
  const is_fields = typeof value === 'object' && value !== null && !Array.isArray(value);
  return is_fields ? (value as Record<string, unknown>) : {};
}

/** The number of a decimal text, null where it is none. */
export function numberOf(value: unknown): number | null {
  if (typeof value !== 'string' || value.length > 40) return null;
  return /^-?(?:\d+\.?\d*|\.\d+)$/.test(value) ? Number(value) : null;
}

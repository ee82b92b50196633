/** What the server's answer about the scale card says; null until it has answered. */
export type Told = { apart_px: number | null } | { refused: unknown } | null;

/** Apart by more the two do not agree: the tablet's corners are good to a fifth of a pixel, the
server's to half of one; of a card that is very large in the picture to a thousandth of it. */
const APART_PX = 2;
const APART_SHARE = 1e-3;

/** `points`: the corners that the tablet found, tenths of a pixel, going round. */
export function checkedWords(
  told: Told,
  online: boolean,
  points: readonly (readonly [number, number])[],
): string {
  if (!online) return 'scale card: not yet re-checked by the server';
  if (told === null) return 'scale card: the server looks too …';
  if ('refused' in told) {
    const code = (told.refused as { code?: string } | null)?.code;
    if (code === 'no_card' || code === 'two_cards')
      return 'scale card: the server does not find it, check the scale';
    return 'scale card: not yet re-checked by the server';
  }
  const apart = (told.apart_px ?? 0).toFixed(1);
  const [[x, y] = [0, 0], , [u, v] = [0, 0]] = points;
  const most_px = Math.max(APART_PX, (APART_SHARE * Math.hypot(u - x, v - y)) / 10);
  return (told.apart_px ?? 0) > most_px
    ? `scale card: the server finds it ${apart} px off, check the scale`
    : `scale card: re-checked by the server, ${apart} px apart`;
}

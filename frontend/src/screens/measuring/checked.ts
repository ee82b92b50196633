/** What the server's answer about the scale card says; null until it has answered. */
export type Told = { apart_px: number | null } | { refused: unknown } | null;

/** Apart by more the two do not agree: the tablet's corners are good to a fifth of a pixel, the
server's to half of one. */
const APART_PX = 2;

export function checkedWords(told: Told, online: boolean): string {
  if (!online) return 'scale card: not yet re-checked by the server';
  if (told === null) return 'scale card: the server looks too …';
  if ('refused' in told) {
    const code = (told.refused as { code?: string } | null)?.code;
    if (code === 'no_card' || code === 'two_cards')
      return 'scale card: the server does not find it, check the scale';
    return 'scale card: not yet re-checked by the server';
  }
  const apart = (told.apart_px ?? 0).toFixed(1);
  return (told.apart_px ?? 0) > APART_PX
    ? `scale card: the server finds it ${apart} px off, check the scale`
    : `scale card: re-checked by the server, ${apart} px apart`;
}

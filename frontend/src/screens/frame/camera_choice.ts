/** Which camera a shutter opens on this browser: the system's, unless the live view was chosen. */

import type { Wanted } from './camera';

const NAME = 'skinpin.camera';

export function isLiveChosen(): boolean {
  try {
    return localStorage.getItem(NAME) === 'live';
  } catch {
    return false;
  }
}

export function chooseLive(is_live: boolean): void {
  try {
    localStorage.setItem(NAME, is_live ? 'live' : 'system');
  } catch {
    // Where nothing is remembered the system's camera opens, as it always does.
  }
}

/** Address of the live view for a record whose number is stored, over a picture of it. */
export function liveAddress({ number, role, mirrored }: Omit<Wanted, 'record'>, of?: string) {
  const asked = new URLSearchParams({
    role,
    ...(mirrored ? { mirrored: 'yes' } : {}),
    ...(of ? { of } : {}),
  });
  return `/airframe/${number.replace('/', '')}/live?${asked}`;
}

/** Goes there as a link of the page would. */
export function openLive(want: Wanted): void {
  const link = document.createElement('a');
  link.href = liveAddress(want);
  document.body.append(link);
  link.click();
  link.remove();
}

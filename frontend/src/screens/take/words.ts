import type { Copies, Shop, TakeNeed, TakeState } from '../../services/shop';

/** "10:14", of another day "2025-11-02 10:14". */
export function whenWords(ms: number, shop: Pick<Shop, 'now' | 'moment'>): string {
  const [day, time] = shop.moment(ms);
  return day === shop.moment(shop.now())[0] ? time : `${day} ${time}`;
}

/** "just now", "12 minutes old", "26 hours old", "3 days old". */
export function ageWords(age_ms: number): string {
  const minutes = Math.round(age_ms / 60_000);
  if (minutes < 2) return 'just now';
  if (minutes < 120) return `${minutes} minutes old`;
  const hours = Math.round(minutes / 60);
  return hours < 48 ? `${hours} hours old` : `${Math.round(hours / 24)} days old`;
}

/** "24 of 30 here", "all 30 here", "none". */
export function hereWords({ photographs, here }: TakeNeed): string {
  if (photographs === 0) return 'none';
  return here === photographs ? `all ${photographs} here` : `${here} of ${photographs} here`;
}

/** The same where there is little room: "24 of 30", "all 30". */
export function hereCounts({ photographs, here }: TakeNeed): string {
  return here === photographs ? `all ${photographs}` : `${here} of ${photographs}`;
}

/** "zones 111, 112"; "no zone chosen". */
export function zoneNames(zones: readonly string[]): string {
  if (zones.length === 0) return 'no zone chosen';
  return `${zones.length === 1 ? 'zone' : 'zones'} ${zones.join(', ')}`;
}

export const COPY_WORDS: Record<Copies, string> = {
  small: 'as the sheets show them',
  all: 'also as they were taken',
};

/** What a run is doing now. */
export function stepWords({ step, done, of }: TakeState): string {
  if (step === 'log') return 'fetching the log …';
  return of > 0 ? `${done} of ${of} copies of photographs` : 'looking what lacks …';
}

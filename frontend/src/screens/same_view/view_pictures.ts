import type { Json, Shop } from '../../services/shop';
import { useLive } from '../live';
import { type Picture, picturesOf } from '../photograph/pictures';

/** A photograph as one of a view: the record it is of, and the picture it repeats. */
export interface ViewPicture extends Picture {
  defect: string;
  number: string;
  /** Local time it was taken, else handed over, as text that sorts. */
  at: string;
  light: string | null;
  repeat_of: string | null;
  fit: Json;
  closed: boolean;
  /** Why no later picture repeats its view. */
  closed_why: string | null;
}

/** A photograph by its record; null where it is not here or withheld. */
export async function readPicture(shop: Shop, record: string): Promise<ViewPicture | null> {
  const values = await shop.book.plain(record);
  const defect = textOf(values.defect);
  if (!defect || typeof values.sha256 !== 'string') return null;
  const [row, all] = await Promise.all([shop.book.defect(defect), picturesOf(shop, defect)]);
  const picture = all.find((one) => one.record === record);
  if (!picture) return null;
  const closed = values.chain_closed === true;
  const written = closed ? await shop.book.written(record, 'chain_closed') : [];
  return {
    ...picture,
    defect,
    number: row?.number ?? '',
    at: wallOf(values.taken) ?? picture.received?.join('T') ?? '9',
    light: textOf(values.light),
    repeat_of: textOf(values.repeat_of),
    fit: values.fit ?? null,
    closed,
    closed_why: written.at(-1)?.why ?? null,
  };
}

const textOf = (value: Json | undefined) => (typeof value === 'string' && value ? value : null);

function wallOf(taken: Json | undefined): string | null {
  const { wall } = (taken ?? {}) as { wall?: Json };
  return textOf(wall);
}

/** A photograph, read again after each change; undefined until it is read. */
export function useViewPicture(shop: Shop, record: string | null | undefined) {
  return useLive(shop, async () => (record ? readPicture(shop, record) : null), [record]);
}

/** The pictures of one view, the oldest first: those that repeat one another, in any direction. */
export async function readChain(shop: Shop, record: string): Promise<ViewPicture[]> {
  const known = new Map<string, ViewPicture | null>();
  const waiting = [record];
  for (let at = 0; at < waiting.length; at += 1) {
    const name = waiting[at] as string;
    if (known.has(name)) continue;
    const picture = await readPicture(shop, name);
    known.set(name, picture);
    const later = await shop.book.related(name, 'photograph');
    const naming = later.filter((one) => one.repeat_of === name).map((one) => one.record);
    waiting.push(...naming, ...(picture?.repeat_of ? [picture.repeat_of] : []));
  }
  return inOrder([...known.values()].filter((one) => one !== null));
}

/** The chain of a view, read again after each change. */
export function useChain(shop: Shop, record: string | null | undefined) {
  return useLive(shop, async () => (record ? readChain(shop, record) : []), [record]);
}

/** The day of a picture: taken, else handed over. */
export function dayOf({ day, received }: Pick<Picture, 'day' | 'received'>): string {
  return day ?? received?.[0] ?? '';
}

/** By time; of one moment, what repeats comes after what it repeats. */
export function inOrder<T extends Pick<ViewPicture, 'at' | 'record' | 'repeat_of'>>(
  chain: T[],
): T[] {
  const by_record = new Map(chain.map((one) => [one.record, one]));
  const steps = (one: T, before = new Set<string>()): number => {
    const earlier = by_record.get(one.repeat_of ?? '');
    if (!earlier || before.has(one.record)) return 0;
    return 1 + steps(earlier, before.add(one.record));
  };
  const keyed = chain.map((one) => ({ one, steps: steps(one) }));
  keyed.sort((a, b) => compare(a.one.at, b.one.at) || a.steps - b.steps);
  return keyed.map(({ one }) => one);
}

const compare = (one: string, other: string) => (one < other ? -1 : one > other ? 1 : 0);

/** Days from one picture to the next, null where a day is not known. */
export function daysBetween(earlier: string, later: string): number | null {
  const [from, to] = [Date.parse(earlier), Date.parse(later)];
  return Number.isNaN(from) || Number.isNaN(to) ? null : Math.round((to - from) / 86_400_000);
}

/** "240 days later", "the same day". */
export function apartWords(earlier: string, later: string): string {
  const days = daysBetween(earlier, later);
  if (days === null) return '';
  if (days === 0) return 'the same day';
  const count = Math.abs(days);
  return `${count} ${count === 1 ? 'day' : 'days'} ${days > 0 ? 'later' : 'earlier'}`;
}

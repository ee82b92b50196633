/** What a history says of what lies on a photograph: marks, scales and measurements. */

import type { Entry } from '@sync/entry';
import { figureText, isQuantity } from './quantities';

type Words = (entry: Entry, where: string) => string;

/** The sentence of an entry on a photograph, null of any other; `shown` is what that is called. */
export function pictureWords(entry: Entry, shown: string): string | null {
  if (!Object.hasOwn(WORDS, entry.kind)) return null;
  return (WORDS[entry.kind] as Words)(entry, shown ? ` on photograph ${shown}` : '');
}

const isSeen = ({ seen }: Entry, field: string) => (seen[field] ?? []).length > 0;

const mark: Words = (entry, where) => {
  if (entry.set.struck === true) return 'mark struck out';
  return isSeen(entry, 'shape') ? 'mark moved' : `mark made${where}`;
};

const scale: Words = (entry, where) => {
  const { set } = entry;
  if (set.struck === true) return 'scale struck out, what was measured with it withdrawn';
  if (isSeen(entry, 'points')) return 'scale moved';
  const sizes = [set.length, set.width, set.height].filter(isQuantity).map(figureText).join(' × ');
  const said = [set.object, sizes].filter((one) => typeof one === 'string' && one !== '');
  return `scale set${where}${said.length > 0 ? `: ${said.join(' ')}` : ''}`;
};

const measurement: Words = (entry, where) => {
  const { struck, shape } = entry.set;
  if (struck === true) return 'measurement struck out';
  if (isSeen(entry, 'points')) return 'measurement moved';
  return typeof shape === 'string' && shape ? `${shape} measured${where}` : `measured${where}`;
};

const WORDS: Readonly<Record<string, Words>> = { mark, scale, measurement };

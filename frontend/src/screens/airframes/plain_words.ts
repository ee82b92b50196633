import type { Description } from '../../services/airframe_rows';
import type { TroubleLike } from './parts';

/** What is missing where the rows are not whole yet, by the end of its path. */
const MISSING: Record<string, string> = {
  ...{ name: 'The type is missing.', constructor: 'The constructor’s number is missing.' },
  ...{ issue: 'The issue is missing.', structures: 'No structure is described yet.' },
};
const CELLS: Record<string, string> = {
  ...{ name: 'has no name', station: 'has no station', zone: 'has no number of three figures' },
  ...{ structure: 'names no structure', thickness: 'has no thickness', part: 'has no name' },
  ...{ hand: 'has a hand that is none: P, S or C', axis: 'has no name of its axis' },
  ...{ positive: 'says no direction', kind: 'is of no kind: panel, floor or hatch' },
  ...{ fixings: 'has no whole number of fixings', upper_station: 'has no upper station' },
};
const LISTS: Record<string, string> = {
  ...{ members: 'member', zones: 'zone', structures: 'structure', access: 'item' },
  ...{ plating: 'plate', parts: 'part', off_aircraft: 'place' },
};

/**
 * A trouble of form in the words of the tables: the server names the path of a file, which nobody
 * who types rows has seen. What is not known here stays as it is said.
 */
export function inPlainWords(trouble: TroubleLike, description: Description): TroubleLike {
  if (trouble.code !== 'wrong_shape') return trouble;
  const path = trouble.at.split('/').filter(Boolean);
  const message = wordsOf(path, description);
  return message === null ? trouble : { ...trouble, message, hint: '' };
}

function wordsOf(path: string[], description: Description): string | null {
  if (path.length === 1) return MISSING[path[0] ?? ''] ?? null;
  const last = path.at(-1) ?? '';
  if (last === 'members') {
    const name = description.structures[Number(path[1])]?.name;
    return `${name || 'The structure'} has no members yet.`;
  }
  if (path.includes('hands')) return 'A hand is none: P port, S starboard, C centreline.';
  const said = CELLS[last];
  const at = path.findLastIndex((word) => /^\d+$/.test(word));
  const list = LISTS[path[at - 1] ?? ''];
  return said && list ? `The ${list} ${said}.` : null;
}

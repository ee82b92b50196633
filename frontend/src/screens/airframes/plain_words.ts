import type { Description, Row } from '../../services/airframe_rows';
import { placed, type TroubleLike } from './parts';

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
/** What a text was to be, where something is typed and can't be read. */
const READ_AS: Record<string, string> = {
  ...{ station: 'a station', upper_station: 'an upper station', thickness: 'a thickness' },
  ...{ fixings: 'a whole number', zone: 'a number of three figures' },
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
  if (!said || !list) return null;
  const { row, column } = typedAt(path.join('/'), description);
  const named = row?.name?.trim() || (list === 'zone' && row?.zone?.trim() && `Zone ${row.zone}`);
  const typed = row?.[column ?? last]?.trim();
  const who = named && last !== 'name' ? named : `The ${list}`;
  return typed && READ_AS[last]
    ? `${who}: “${typed}” can’t be read as ${READ_AS[last]}.`
    : `${who} ${said}.`;
}

/** The line that a trouble is about, as it is typed. */
function typedAt(
  at: string,
  description: Description,
): { row: Row | undefined; column: string | null } {
  const { part, structure, row, column } = placed(description, { at, message: '' });
  const tables: Record<string, readonly Row[]> = {
    members: description.structures[structure ?? -1]?.members ?? [],
    ...{ zones: description.zones, access: description.access, about: description.off_aircraft },
  };
  return { row: row === null ? undefined : tables[part]?.[row], column };
}

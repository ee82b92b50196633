import type { DefectRow, Definition } from '../../services/shop';

export interface ListedRow {
  row: DefectRow;
  /** Member named at the first of its records only. */
  member: { name: string; station: string } | undefined;
}

/** Nose to tail: structures in the definition's order, then station, then number. */
export function noseToTail(rows: DefectRow[], definition: Definition | null): ListedRow[] {
  const names = definition?.structures.map((one) => one.name) ?? [];
  const order = (row: DefectRow) => {
    const at = names.indexOf(row.structure ?? '');
    return at < 0 ? names.length : at;
  };
  const sorted = [...rows].sort(
    (one, other) =>
      order(one) - order(other) ||
      Number(one.station ?? Number.POSITIVE_INFINITY) -
        Number(other.station ?? Number.POSITIVE_INFINITY) ||
      (one.number ?? '').localeCompare(other.number ?? ''),
  );
  return sorted.map((row, at) => ({ row, member: memberOf(row, sorted[at - 1], definition) }));
}

function memberOf(row: DefectRow, before: DefectRow | undefined, definition: Definition | null) {
  const same = before?.structure === row.structure && before?.member === row.member;
  if (same || !row.member) return undefined;
  const structure = definition?.structures.find((one) => one.name === row.structure);
  const member = structure?.members.find((one) => one.name === row.member);
  return { name: row.member, station: member?.station ?? '' };
}

/** Rows that hold every word typed, in number, place, kind, state, grade or stage. */
export function found(rows: DefectRow[], words: string): DefectRow[] {
  const terms = words.toLowerCase().split(/\s+/).filter(Boolean);
  const wanted = rows.filter((row) => terms.every((term) => text(row).includes(term)));
  const asks_error = terms.includes('error');
  return asks_error ? wanted : wanted.filter((row) => row.state !== 'Raised in error');
}

function text(row: DefectRow): string {
  const parts = [
    row.number,
    (row.number ?? '').replace('/', ''),
    row.place_words,
    row.zone,
    row.kind_words,
    row.part,
    row.state,
    row.grade_words,
    row.stage,
    row.disposition,
  ];
  return parts.filter(Boolean).join(' ').toLowerCase();
}

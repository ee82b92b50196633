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

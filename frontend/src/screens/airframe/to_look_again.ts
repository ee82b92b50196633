import type { DefectRow } from '../../services/shop';

/** Records that the lead asked this tablet to look at again, nose to tail; a desk shows all. */
export function toLookAgain(rows: readonly DefectRow[], letter: string | null = null): DefectRow[] {
  const isMine = ({ tablet }: { tablet?: unknown }) =>
    letter === null || (tablet ?? letter) === letter;
  return rows
    .filter((row) => row.look_again && isMine(row.look_again))
    .sort((one, other) => Number(one.station) - Number(other.station));
}

import type { DefectRow } from '../../services/shop';

/** Rows of one structure by station, so that those about a place are found without all others. */
export class Along {
  private readonly stations: number[];
  private readonly order: number[];
  private readonly long: readonly number[];

  constructor(
    private readonly rows: readonly DefectRow[],
    structure: string,
  ) {
    const at = rows.map((row) => (row.station === null ? Number.NaN : Number(row.station)));
    this.order = rows.flatMap((row, index) =>
      row.structure === structure && !Number.isNaN(at[index]) ? [index] : [],
    );
    this.order.sort((a, b) => (at[a] as number) - (at[b] as number));
    this.stations = this.order.map((index) => at[index] as number);
    this.long = this.order.filter((index) => rows[index]?.place?.to);
  }

  /** Rows from one station to another, both included, in the order of the book. */
  between(from: number, to: number): DefectRow[] {
    const end = this.after(to, true);
    const found = this.order.slice(this.after(from, false), end).sort((a, b) => a - b);
    return found.map((index) => this.rows[index] as DefectRow);
  }

  /** Rows that begin before a station and reach on from where they begin, the nearest last. */
  before(station: number): DefectRow[] {
    const rows = this.long.map((index) => this.rows[index] as DefectRow);
    return rows.filter((row) => Number(row.station) < station);
  }

  /** How many stations lie before one; `with_it` counts those at it too. */
  private after(station: number, with_it: boolean): number {
    let [low, high] = [0, this.stations.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      const one = this.stations[middle] as number;
      if (one < station || (with_it && one === station)) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}

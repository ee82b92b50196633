/** Where things lie on a drawing: x of a station, y of a strake line. */
export interface Paper {
  width_px: number;
  x: (station: number) => number;
  y: (line: number) => number;
}

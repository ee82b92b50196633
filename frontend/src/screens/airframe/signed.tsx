import type { Paper } from './paper';
import type { RowWindow } from './window';

/** A bay over all its strakes: stations, and signed strake lines. */
export interface Signable {
  from: number;
  to: number;
  low: number;
  high: number;
}

/** Long dash and dot round all that one look takes in, so far as it is drawn. */
export function Signed({
  signed,
  rows,
  paper,
}: {
  signed: Signable;
  rows: RowWindow;
  paper: Paper;
}) {
  const low = Math.max(signed.low, rows.low);
  const high = Math.min(signed.high, rows.high);
  if (low >= high) return null;
  const top = Math.min(paper.y(low), paper.y(high));
  return (
    <rect
      class="ln thick"
      fill="none"
      stroke-dasharray="18 5 4 5"
      x={paper.x(signed.from)}
      y={top}
      width={paper.x(signed.to) - paper.x(signed.from)}
      height={Math.abs(paper.y(high) - paper.y(low))}
    />
  );
}

/** The vector that a matrix makes smallest, for fits in photo_geometry; Python has numpy for it. */

const SWEEPS = 60;
const SQUARE = 1e-16;

/** A column of the matrix, and the turns that led to it. */
interface Column {
  is: number[];
  of: number[];
}

/** The unit vector v for which |rows · v| is least: the right singular vector of the least singular
value, by one-sided Jacobi turns of the columns (Hestenes; Golub and Van Loan, Matrix Computations,
3rd ed., 8.6.3, from memory). The matrix is never multiplied by itself, so figures are kept. */
export function nullVector(rows: number[][]): number[] {
  const wide = rows[0]?.length ?? 0;
  const columns = Array.from({ length: wide }, (_, at): Column => {
    const of = Array.from({ length: wide }, (_one, other) => (other === at ? 1 : 0));
    return { is: rows.map((row) => row[at] as number), of };
  });
  for (let sweep = 0; sweep < SWEEPS && turnAll(columns); sweep++);
  return columns.reduce((least, one) => (size(one) < size(least) ? one : least)).of;
}

/** One sweep over all pairs of columns; whether any was not yet square to another. */
function turnAll(columns: Column[]): boolean {
  let turned = false;
  for (const [at, p] of columns.entries()) {
    for (const q of columns.slice(at + 1)) turned = turnPair(p, q) || turned;
  }
  return turned;
}

function turnPair(p: Column, q: Column): boolean {
  const [pp, qq, pq] = [size(p), size(q), dot(p.is, q.is)];
  if (pq === 0 || Math.abs(pq) <= SQUARE * Math.sqrt(pp * qq)) return false;
  const zeta = (qq - pp) / (2 * pq);
  const tangent = (zeta < 0 ? -1 : 1) / (Math.abs(zeta) + Math.hypot(1, zeta));
  const cosine = 1 / Math.hypot(1, tangent);
  turn(p.is, q.is, cosine, cosine * tangent);
  turn(p.of, q.of, cosine, cosine * tangent);
  return true;
}

function turn(p: number[], q: number[], cosine: number, sine: number): void {
  for (const [at, kept] of p.entries()) {
    const other = q[at] as number;
    p[at] = cosine * kept - sine * other;
    q[at] = sine * kept + cosine * other;
  }
}

function size(column: Column): number {
  return dot(column.is, column.is);
}

function dot(one: number[], other: number[]): number {
  return one.reduce((total, value, at) => total + value * (other[at] as number), 0);
}

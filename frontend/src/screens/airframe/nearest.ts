/** Parts things on a drawing into the nearest to a point, in their own order, and the rest. */
export function nearestFirst<T extends { x: number; y: number }>(
  all: readonly T[],
  { x, y }: { x: number; y: number },
  most: number,
): [near: T[], rest: T[]] {
  if (all.length <= most) return [[...all], []];
  const away = (one: T) => (one.x - x) ** 2 + (one.y - y) ** 2;
  const far = all.map(away);
  const order = far.map((_, at) => at);
  order.sort((a, b) => (far[a] as number) - (far[b] as number) || a - b);
  const near = new Set(order.slice(0, most));
  return [all.filter((_, at) => near.has(at)), all.filter((_, at) => !near.has(at))];
}

/** The values of each key in the order in which they came. */
export function grouped<K, V>(pairs: Iterable<readonly [K, V]>): Map<K, V[]> {
  const found = new Map<K, V[]>();
  for (const [key, value] of pairs) {
    const values = found.get(key);
    if (values) values.push(value);
    else found.set(key, [value]);
  }
  return found;
}

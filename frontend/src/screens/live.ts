import { useEffect, useState } from 'preact/hooks';
import type { Shop } from '../services/shop';

/** Runs a query of the book now and after each change; undefined until the first answer. */
export function useLive<T>(shop: Shop, query: () => Promise<T>, inputs: unknown[]): T | undefined {
  const [value, setValue] = useState<T>();
  useEffect(() => shop.live(query, (found) => setValue(() => found)), [shop, ...inputs]);
  return value;
}

import { useEffect, useState } from 'preact/hooks';

/** What is fetched when it is first needed; null until it is here. */
export function useFetched<T>(fetch: () => Promise<T>): T | null {
  const [fetched, setFetched] = useState<{ it: T } | null>(null);
  useEffect(() => {
    let wanted = true;
    void fetch().then((it) => wanted && setFetched({ it }));
    return () => {
      wanted = false;
    };
  }, []);
  return fetched?.it ?? null;
}

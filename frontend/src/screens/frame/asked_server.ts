import { useCallback, useEffect, useState } from 'preact/hooks';
import type { Shop } from '../../services/shop';
import { troubleOf } from './words';

/**
 * What only the server knows, read at the start and when the session changes: it shows each what
 * their role lets them see. `read` must be the same function at every drawing.
 */
export function useServerAnswer<T>(shop: Shop, read: (shop: Shop) => Promise<T>) {
  const [answer, setAnswer] = useState<T>();
  const [failed, setFailed] = useState<{ what: string; todo: string } | null>(null);
  const again = useCallback(async () => {
    try {
      setAnswer(await read(shop));
      setFailed(null);
    } catch (error) {
      setFailed(troubleOf(error));
    }
  }, [shop, read]);
  const who = `${shop.session?.person} ${shop.session?.role} ${shop.session?.online}`;
  useEffect(() => void again(), [again, who]);
  return { answer, failed, again };
}

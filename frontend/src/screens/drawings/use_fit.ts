import { useEffect, useRef, useState } from 'preact/hooks';
import type { Structure } from '../../domain/place';
import type { Json, Shop } from '../../services/shop';
import type { Trouble } from '../frame/trouble';
import { troubleOf } from '../frame/words';
import { asked, type Drawing, type Fitted } from './known';

const SETTLE_MS = 250;

export interface Fit {
  fitted: Fitted | null;
  trouble: Trouble | null;
  waiting: boolean;
}

/** The fit of what is touched, asked of the server once nothing moved for a moment. */
export function useFit(shop: Shop, drawing: Drawing, structure: Structure): Fit {
  const body = JSON.stringify(asked(drawing, structure));
  const [fit, setFit] = useState<Fit>({ fitted: null, trouble: null, waiting: false });
  const turn = useRef(0);
  useEffect(() => {
    turn.current += 1;
    const mine = turn.current;
    if (body === 'null') {
      setFit({ fitted: null, trouble: null, waiting: false });
      return;
    }
    setFit((last) => ({ ...last, waiting: true }));
    const tell = (next: Fit) => mine === turn.current && setFit(next);
    const timer = setTimeout(() => {
      shop.api.post<Json>('/api/drawings/fit', JSON.parse(body) as Json).then(
        (fitted) => tell({ fitted: fitted as unknown as Fitted, trouble: null, waiting: false }),
        (error) => tell({ fitted: null, trouble: troubleOf(error), waiting: false }),
      );
    }, SETTLE_MS);
    return () => clearTimeout(timer);
  }, [shop, body]);
  return fit;
}

import { useEffect, useState } from 'preact/hooks';
import type { Shop } from '../../services/shop';
import { checkedWords, type Told } from './checked';

export interface CardCheckProps {
  shop: Shop;
  sha256: string;
  /** Corners as the tablet found them, whole tenths of an upright pixel. */
  points: readonly (readonly [number, number])[];
}

/** Whether the server finds the scale card where the tablet did; nothing while it is away. */
export function CardCheck({ shop, sha256, points }: CardCheckProps) {
  const [told, setTold] = useState<Told>(null);
  const asked = JSON.stringify(points);
  const online = shop.session?.online === true;
  useEffect(() => {
    setTold(null);
    if (!online) return;
    let left = false;
    shop.api
      .post<{ apart_px: number | null }>(`/api/photographs/${sha256}/card`, {
        points: JSON.parse(asked),
      })
      .then(
        ({ apart_px }) => left || setTold({ apart_px }),
        (error) => left || setTold({ refused: error }),
      );
    return () => {
      left = true;
    };
  }, [shop, sha256, asked, online]);
  return <span role="status">{checkedWords(told, online, points)}</span>;
}

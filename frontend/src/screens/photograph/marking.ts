import { useState } from 'preact/hooks';
import type { Shop } from '../../services/shop';
import type { MarkOn } from './marks_on';
import type { Picture } from './pictures';
import { type MarkKind, markAt, type Placed, type Size, shapeOf } from './placed';

export interface Marking {
  size: Size;
  kind: MarkKind;
  /** The mark that is shown: touched, or the first one that lies ready in the middle. */
  placed: Placed | null;
  /** The same where somebody placed it. */
  touched: Placed | null;
  /** Its number, should it be one. */
  label: string;
  /** Another kind of mark; that of the mark shown leaves the picture without it. */
  pick: (kind: MarkKind) => void;
  place: (placed: Placed | null) => void;
  touch: (point: { x: number; y: number }) => void;
  /** Stores the mark that is shown. */
  keep: () => Promise<void>;
  /** Stores it where somebody placed it: a ring that nobody did is no mark of what was seen. */
  keepTouched: () => Promise<void>;
}

/** The mark being placed on a picture; `marks` are those that it has. */
export function useMarking(shop: Shop, picture: Picture, marks: MarkOn[] | undefined): Marking {
  const [kind, setKind] = useState<MarkKind>('ring');
  const [touched, place] = useState<Placed | null>(null);
  const [without, setWithout] = useState(false);
  const size = { width_px: picture.width_px, height_px: picture.height_px };
  // The first ring stands in the middle already: a touch or the keys bring it to the defect.
  const middle = { x: size.width_px / 2, y: size.height_px / 2 };
  const first = marks?.length === 0 && !without ? markAt(kind, middle, size) : null;
  const placed = touched ?? first;
  const label = String((marks?.filter((one) => one.shape.kind === 'number').length ?? 0) + 1);
  const store = async (mark: Placed | null) => {
    if (!shop.session || !mark) return;
    await shop.capture.addMark(shop.session, picture.record, shapeOf({ ...mark, label }));
  };
  return {
    ...{ size, kind, placed, touched, label, place },
    pick: (next) => {
      const isOff = next === kind && placed !== null;
      setKind(next);
      setWithout(isOff);
      place(isOff ? null : markAt(next, touched ?? middle, size));
    },
    touch: (point) => place(placed ? { ...placed, ...point } : markAt(kind, point, size)),
    keep: async () => {
      if (!shop.session || !placed) return;
      await store(placed);
      place(null);
      // Until the mark kept is read back no first ring is offered.
      setWithout(true);
    },
    keepTouched: () => store(touched),
  };
}

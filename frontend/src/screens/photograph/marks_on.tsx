import { WaxArrow, WaxRing } from '../../furniture';
import type { Shape, Shop } from '../../services/shop';
import { useLive } from '../live';

export interface MarkOn {
  record: string;
  shape: Shape;
}

/** Marks of a photograph that are not struck; undefined until they are read. */
export function useMarks(shop: Shop, photograph: string | undefined): MarkOn[] | undefined {
  return useLive(shop, async () => {
    if (!photograph) return [];
    const found = await shop.book.related(photograph, 'mark');
    return found
      .filter((mark) => mark.struck !== true && mark.shape)
      .map((mark) => ({ record: mark.record, shape: mark.shape as unknown as Shape }));
  }, [photograph]);
}

/** The marks of a photograph, drawn in its own upright pixels. */
export function MarksOn({ shop, photograph }: { shop: Shop; photograph: string }) {
  const marks = useMarks(shop, photograph) ?? [];
  return (
    <>
      {marks.map((mark) => (
        <OneMark key={mark.record} mark={mark} />
      ))}
    </>
  );
}

export function OneMark({ mark }: { mark: MarkOn }) {
  const points = mark.shape.points.map(([x, y]) => ({ x: x / 10, y: y / 10 }));
  const [first, second] = points;
  if (!first || !second) return null;
  const seed = seedOf(mark.record);
  if (mark.shape.kind === 'arrow') return <WaxArrow tail={first} tip={second} seed={seed} />;
  return <WaxRing points={points} seed={seed} />;
}

/** The same record always gives the same stroke. */
export function seedOf(record: string): number {
  let seed = 0;
  for (const letter of record) seed = (Math.imul(seed, 31) + letter.charCodeAt(0)) >>> 0;
  return seed;
}

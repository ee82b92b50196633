import { useContext } from 'preact/hooks';
import {
  DimensionLine,
  PictureBounds,
  PictureScale,
  WaxArrow,
  WaxRing,
  WaxStroke,
} from '../../furniture';
import type { Shape, Shop } from '../../services/shop';
import { useFetched } from '../frame/fetched';
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

/** The marks of a photograph and what was measured on it, drawn in its own upright pixels. */
export function MarksOn({ shop, photograph }: { shop: Shop; photograph: string }) {
  const marks = useMarks(shop, photograph) ?? [];
  return (
    <>
      {marks.map((mark) => (
        <OneMark key={mark.record} mark={mark} />
      ))}
      <MeasuredOn {...{ shop, photograph }} />
    </>
  );
}

/** What was measured on a photograph; how is loaded only where a scale lies on it. */
function MeasuredOn(props: { shop: Shop; photograph: string }) {
  const { shop, photograph } = props;
  const scales = useLive(shop, () => shop.book.related(photograph, 'scale'), [photograph]);
  return scales?.length ? <Measured {...props} /> : null;
}

function Measured(props: { shop: Shop; photograph: string }) {
  const measured = useFetched(() => import('../measuring/measured_on'));
  return measured && <measured.MeasuredOf {...props} />;
}

/** One mark in wax pencil; a shape that this version does not know is left out. */
export function OneMark({ mark, core_px }: { mark: MarkOn; core_px?: number }) {
  const points = mark.shape.points.map(([x, y]) => ({ x: x / 10, y: y / 10 }));
  const [first, second] = points;
  const seed = seedOf(mark.record);
  if (!first) return null;
  if (mark.shape.kind === 'dot') return <Dot at={first} />;
  if (mark.shape.kind === 'number') return <Numbered at={first} label={mark.shape.label ?? ''} />;
  if (!second) return null;
  if (mark.shape.kind === 'outline') return <WaxStroke d={closedPath(points)} core_px={core_px} />;
  if (mark.shape.kind === 'arrow')
    return <WaxArrow tail={first} tip={second} {...{ seed, core_px }} />;
  if (mark.shape.kind === 'line' && mark.shape.label)
    return <Length from={first} to={second} label={mark.shape.label} />;
  if (mark.shape.kind === 'line')
    return <WaxStroke d={`M${first.x} ${first.y}L${second.x} ${second.y}`} core_px={core_px} />;
  return <WaxRing points={points} seed={seed} core_px={core_px} />;
}

/** A path round an area, back to where it began. */
function closedPath(points: readonly At[]): string {
  return `M${points.map(({ x, y }) => `${x} ${y}`).join('L')}Z`;
}

/** A measured length stands off on a dimension line; without its ± it has no flag. */
function Length({ from, to, label }: { from: At; to: At; label: string }) {
  return (
    <DimensionLine
      from={from}
      to={to}
      value={label.includes('±') ? label : undefined}
      off_px={44}
      on="picture"
    />
  );
}

interface At {
  x: number;
  y: number;
}

function Dot({ at }: { at: At }) {
  const scale = useContext(PictureScale);
  return <WaxStroke d={`M${at.x} ${at.y}h${0.1 * scale}`} core_px={14} />;
}

/** A figure in a wax circle, to be named in the note. */
function Numbered({ at, label }: { at: At; label: string }) {
  const scale = useContext(PictureScale);
  const isTurned = useContext(PictureBounds)?.mirrored === true;
  const r = 20 * scale;
  const circle = `M${at.x - r} ${at.y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0`;
  return (
    <>
      <WaxStroke d={circle} core_px={4} />
      <text
        class="mid bold wax-number"
        transform={`translate(${at.x} ${at.y + 9 * scale})${isTurned ? ' scale(-1 1)' : ''}`}
        font-size={26 * scale}
      >
        {label}
      </text>
    </>
  );
}

/** The same record always gives the same stroke. */
export function seedOf(record: string): number {
  let seed = 0;
  for (const letter of record) seed = (Math.imul(seed, 31) + letter.charCodeAt(0)) >>> 0;
  return seed;
}

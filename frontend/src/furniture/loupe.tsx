import { useContext, useId } from 'preact/hooks';
import { PictureScale } from './frame.ts';
import type { Point } from './strokes.ts';
import './loupe.css';

const RADIUS_PX = 80;
const TIMES = 3;
const EDGE_PX = 12;

export interface LoupeProps {
  /** The point under the finger, in px of the photograph. */
  at: Point;
  /** The photograph it enlarges, at its own size. */
  src: string;
  width_px: number;
  height_px: number;
  /** How many px of the screen one of the photograph takes; three times the picture unless said. */
  px?: number | undefined;
  /** Points it must not hide: it stands in the corner farthest from them. */
  clear?: readonly Point[] | undefined;
}

/** Where the loupe stands: at the head of the picture, on the side away from the finger. */
export function loupeCentre(at: Point, width_px: number, scale: number): Point {
  const off = (RADIUS_PX + EDGE_PX) * scale;
  return { x: at.x > width_px / 2 ? off : width_px - off, y: off };
}

/** The corner of the picture whose nearest point is farthest off. */
function clearCorner(points: readonly Point[], props: LoupeProps, scale: number): Point {
  const off = (RADIUS_PX + EDGE_PX) * scale;
  const corners = [off, props.width_px - off].flatMap((x) =>
    [off, props.height_px - off].map((y) => ({ x, y })),
  );
  const room = ({ x, y }: Point) => Math.min(...points.map((p) => Math.hypot(p.x - x, p.y - y)));
  return corners.reduce((best, one) => (room(one) > room(best) ? one : best));
}

/** The picture three times as large or more round a point, away from the finger that hides it. */
export function Loupe(props: LoupeProps) {
  const { at, src, width_px, height_px, px, clear } = props;
  const scale = useContext(PictureScale);
  const times = px === undefined ? TIMES : Math.max(TIMES, px * scale);
  const clip = useId();
  const centre = clear ? clearCorner(clear, props, scale) : loupeCentre(at, width_px, scale);
  const r = RADIUS_PX * scale;
  const arm = 14 * scale;
  const gap = 4 * scale;
  const cross = [`M${-arm} 0H${-gap}M${gap} 0H${arm}`, `M0 ${-arm}V${-gap}M0 ${gap}V${arm}`].join(
    '',
  );
  return (
    <g class="loupe" transform={`translate(${centre.x} ${centre.y})`}>
      <clipPath id={clip}>
        <circle r={r} />
      </clipPath>
      <g clip-path={`url(#${clip})`}>
        <circle class="loupe-ground" r={r} />
        <image
          href={src}
          width={width_px}
          height={height_px}
          transform={`scale(${times}) translate(${-at.x} ${-at.y})`}
        />
      </g>
      <circle class="loupe-edge" r={r} stroke-width={9} />
      <circle class="loupe-rim" r={r} stroke-width={4} />
      <path class="loupe-edge" d={cross} stroke-width={6} />
      <path class="loupe-rim" d={cross} stroke-width={2} />
    </g>
  );
}

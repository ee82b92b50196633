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
}

/** Where the loupe stands: at the head of the picture, on the side away from the finger. */
export function loupeCentre(at: Point, width_px: number, scale: number): Point {
  const off = (RADIUS_PX + EDGE_PX) * scale;
  return { x: at.x > width_px / 2 ? off : width_px - off, y: off };
}

/** The picture three times as large round a point, away from the finger that hides it. */
export function Loupe({ at, src, width_px, height_px }: LoupeProps) {
  const scale = useContext(PictureScale);
  const clip = useId();
  const centre = loupeCentre(at, width_px, scale);
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
          transform={`scale(${TIMES}) translate(${-at.x} ${-at.y})`}
        />
      </g>
      <circle class="loupe-edge" r={r} stroke-width={9} />
      <circle class="loupe-rim" r={r} stroke-width={4} />
      <path class="loupe-edge" d={cross} stroke-width={6} />
      <path class="loupe-rim" d={cross} stroke-width={2} />
    </g>
  );
}

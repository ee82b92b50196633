import { useContext } from 'preact/hooks';
import { PictureScale } from './frame.ts';
import { arrowStrokes, type Point, ringStroke } from './strokes.ts';
import './wax.css';

export interface WaxProps {
  /** Same seed, same stroke: the record id of the mark as a number does well. */
  seed: number;
  /** On a picture the core has a light edge; on the sheet it is plain ink. */
  on?: 'picture' | 'sheet' | undefined;
  /** Width of the core in px on the screen. */
  core_px?: number | undefined;
}

export interface WaxRingProps extends WaxProps {
  /** Ends of the long axis, and a third point for the width. */
  points: Point[];
}

/** Wax-pencil ring: one stroke, ends overlapping. */
export function WaxRing({ points, seed, on, core_px }: WaxRingProps) {
  return <WaxStroke d={ringStroke(points, seed).d} on={on} core_px={core_px} />;
}

export interface WaxArrowProps extends WaxProps {
  tail: Point;
  tip: Point;
}

/** Wax-pencil arrow: two strokes. */
export function WaxArrow({ tail, tip, seed, on, core_px }: WaxArrowProps) {
  const scale = useContext(PictureScale);
  const { shaft, head } = arrowStrokes(tail, tip, seed, 18 * scale);
  return <WaxStroke d={shaft + head} on={on} core_px={core_px} />;
}

/** Core and edge of one stroke. Its width stays the same at every size of the picture. */
export function WaxStroke(props: {
  d: string;
  on?: 'picture' | 'sheet' | undefined;
  core_px?: number | undefined;
}) {
  const { d, on = 'picture', core_px = 7 } = props;
  return (
    <g class={`wax wax-${on}`}>
      {on === 'picture' && <path class="wax-edge" d={d} stroke-width={core_px + 5} />}
      <path class="wax-core" d={d} stroke-width={core_px} />
    </g>
  );
}

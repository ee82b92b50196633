import { useContext } from 'preact/hooks';
import { type Bounds, PictureBounds, PictureScale } from './frame.ts';
import { textWidth } from './measured.ts';
import type { Point } from './strokes.ts';
import './dimension.css';

/** Room that a flag keeps to the edge of the photograph, px of the screen. */
const EDGE_PX = 3;

export interface FlagProps {
  /** Its middle, where there is room for it. */
  at: Point;
  words: string;
  on?: 'picture' | 'sheet' | undefined;
  letters_px?: number | undefined;
}

/** Words on a paper flag: never over the edge of a photograph, and read from the left in a mirror. */
export function Flag({ at, words, on = 'sheet', letters_px = 18 }: FlagProps) {
  const scale = useContext(PictureScale);
  const bounds = useContext(PictureBounds);
  const room_px = bounds ? bounds.width_px / scale - 2 * EDGE_PX : Number.POSITIVE_INFINITY;
  const lines = flagLines(words, (line) => flagWidth(line, letters_px) <= room_px);
  const wide = Math.max(...lines.map((line) => flagWidth(line, letters_px)));
  const high = lines.length * (letters_px + 2) + 8;
  const place = bounds ? inside(at, wide, high, bounds, scale) : at;
  const across = bounds?.mirrored ? -scale : scale;
  return (
    <g transform={`translate(${place.x} ${place.y}) scale(${across} ${scale})`}>
      <rect class={`flag flag-${on}`} x={-wide / 2} y={-high / 2} width={wide} height={high} />
      {lines.map((line, number) => (
        <text
          key={line}
          class="bold mid flag-words"
          y={letters_px * 0.36 + (number - (lines.length - 1) / 2) * (letters_px + 2)}
          font-size={letters_px}
        >
          {line}
        </text>
      ))}
    </g>
  );
}

/** How wide a flag of one line is, px of the screen. */
export function flagWidth(words: string, letters_px: number): number {
  return textWidth(words, letters_px, true) + 20;
}

/** Words in as few lines as fit, broken before a × if they can be, else between words. */
export function flagLines(words: string, fits: (line: string) => boolean): string[] {
  if (fits(words)) return [words];
  const sizes = words.split(/ (?=×)/);
  const pieces = sizes.length > 1 && sizes.every(fits) ? sizes : words.split(' ');
  const lines: string[] = [];
  for (const piece of pieces) {
    const longer = `${lines.at(-1) ?? ''} ${piece}`.trim();
    if (lines.length > 0 && fits(longer)) lines[lines.length - 1] = longer;
    else lines.push(piece);
  }
  return lines;
}

function inside(at: Point, wide: number, high: number, bounds: Bounds, scale: number): Point {
  const held = (value: number, size: number, most: number) => {
    const least = (size / 2 + EDGE_PX) * scale;
    return Math.max(least, Math.min(value, most - least));
  };
  return { x: held(at.x, wide, bounds.width_px), y: held(at.y, high, bounds.height_px) };
}

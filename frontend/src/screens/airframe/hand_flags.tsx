import { type Box, clearest } from '../../furniture';
import type { Paper } from './paper';
import type { RowWindow, Structure } from './window';

/** The hands as they are drawn. */
export function HandFlags({ flags }: { flags: readonly Flag[] }) {
  return (
    <>
      {flags.map(({ word, x, y, is_level }) => (
        <g key={word} transform={`translate(${x} ${y})${is_level ? '' : ' rotate(-90)'}`}>
          <rect
            class="hand-flag"
            x={is_level ? -28 : -36}
            y={-13}
            width={is_level ? 56 : 72}
            height={26}
          />
          <text class="px16 bold mid fill-draw" y={6}>
            {word}
          </text>
        </g>
      ))}
    </>
  );
}

/** A lower strip has its word level. */
const FLAG_PX = 78;

/** A hand's word, its middle and what it covers. */
export interface Flag {
  word: string;
  x: number;
  y: number;
  is_level: boolean;
  box: Box;
}

const FLAG_STEPS = 40;
const WORDS_PX = 84;
/** Near the right edge the words of a few marks stand one beside the other at their left. */
const WORDS_LEFT_PX = 240;

/** A mark with the room for its words. */
function withWords(box: Box): Box {
  return { ...box, left: box.left - WORDS_LEFT_PX, right: box.right + WORDS_PX };
}

/** The hands at the right edge, further in where a mark stands there. */
export function flagsOf(
  rows: RowWindow,
  structure: Structure,
  paper: Paper,
  taken: readonly Box[],
): Flag[] {
  if (structure.hands.length < 2) return [];
  const room = taken.map(withWords);
  return [
    { word: 'STBD', from: rows.low, to: Math.min(rows.high, 0) },
    { word: 'PORT', from: Math.max(rows.low, 0), to: rows.high },
  ]
    .filter((flag) => flag.to - flag.from > 0)
    .map(({ word, from, to }) => {
      const is_level = Math.abs(paper.y(from) - paper.y(to)) < FLAG_PX;
      const last = paper.width_px - (is_level ? 32 : 18);
      const y = (paper.y(from) + paper.y(to)) / 2;
      const flags = Array.from({ length: FLAG_STEPS }, (_, at) => {
        const x = last - 12 * at;
        return { ...{ word, x, y, is_level }, box: flagBox(x, y, is_level) };
      });
      const box = clearest(
        flags.map((flag) => flag.box),
        room,
      );
      return flags.find((flag) => flag.box === box) as Flag;
    });
}

function flagBox(x: number, y: number, is_level: boolean): Box {
  const [wide, high] = is_level ? [29, 14] : [14, 37];
  return { left: x - wide, right: x + wide, top: y - high, bottom: y + high };
}

import { useState } from 'preact/hooks';
import { DeskKey, RIVET_WORDS, RivetHead, type RivetState } from '../../furniture';
import { afterStep, type Seven, sevenAt } from './seven_holes_values';

const [WIDE, HIGH] = [780, 132];
const HEAD = 40;
const [INSET, APART] = [60, 110];

/** Seven holes of a line large enough to be read, with what each was found as and is now. */
export function SevenHoles(props: { name: string; found: string; now: string; worst: number }) {
  const { name, found, now, worst } = props;
  const count = now.length;
  const [first, setFirst] = useState(() => sevenAt(worst, count).first);
  const seven: Seven = { first, last: Math.min(first + 6, count) };
  const step = (by: 1 | -1) => {
    const next = afterStep(seven, by, count);
    return {
      label: by < 0 ? `◄ ${next.first}–${next.last}` : `${next.first}–${next.last} ►`,
      unavailable: next.first === seven.first ? 'end of the line' : undefined,
      onPress: () => setFirst(next.first),
    };
  };
  const holes = Array.from({ length: seven.last - first + 1 }, (_, at) => first + at);
  return (
    <figure class="seven-holes">
      <figcaption>
        <b>
          HOLES {first}–{seven.last} ENLARGED
        </b>
        {count > 7 && (
          <span class="seven-keys">
            <DeskKey {...step(-1)} />
            <DeskKey {...step(1)} />
          </span>
        )}
      </figcaption>
      <svg role="img" aria-label={spokenOf(name, holes, now)} viewBox={`0 0 ${WIDE} ${HIGH}`}>
        <path class="ln-draw medium" d={`M4 28H${WIDE - 4}M4 96H${WIDE - 4}`} />
        <path class="ln-second thin chain" d={`M4 62H${WIDE - 4}`} />
        {holes.map((hole, at) => (
          <Hole
            key={hole}
            x={INSET + at * APART}
            hole={hole}
            found={(found[hole - 1] ?? 'S') as RivetState}
            now={(now[hole - 1] ?? 'S') as RivetState}
          />
        ))}
      </svg>
    </figure>
  );
}

function Hole(props: { x: number; hole: number; found: RivetState; now: RivetState }) {
  const { x, hole, found, now } = props;
  return (
    <g>
      <text class="px16 bold mid" x={x} y={18}>
        {hole}
      </text>
      <RivetHead state={now} size={HEAD} x={x - HEAD / 2} y={62 - HEAD / 2} />
      <text class="px14 bold mid" x={x} y={112}>
        {now === 'S' ? 'sound' : `${now} ${RIVET_WORDS[now]}`}
      </text>
      {found !== now && (
        <text class="px14 mid" x={x} y={128}>
          found {found}
        </text>
      )}
    </g>
  );
}

function spokenOf(name: string, holes: readonly number[], now: string): string {
  const each = holes.map((hole) => `${hole} ${RIVET_WORDS[(now[hole - 1] ?? 'S') as RivetState]}`);
  return `${name}, enlarged: ${each.join(', ')}`;
}

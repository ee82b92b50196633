import { useRef } from 'preact/hooks';
import { useWidth } from '../../furniture';
import { type Numbers, rangeWords } from './register';

const EDGE_PX = 12;
const MOST_PX = 26;
/** Numbers whose records are not here: the line has a gap. */
const GAPS = ['not yet in', 'never used', 'refused here', 'another number now'];

/** A tablet's numbers as a rule from the first to the last: solid where a record stands. */
export function NumberLine({ numbers }: { numbers: Numbers }) {
  const box = useRef<HTMLDivElement>(null);
  const width_px = useWidth(box, 700);
  const last = Math.max(serialOf(numbers.last), serialOf(numbers.told_last));
  if (last === 0) return null;
  const step = Math.min(MOST_PX, (width_px - 2 * EDGE_PX) / last);
  const x = (serial: number) => EDGE_PX + (serial - 1) * step;
  const runs = numbers.words.map((word) => ({
    ...word,
    from: x(serialOf(word.first)),
    to: x(serialOf(word.last) + 1),
  }));
  return (
    <div class="number-line" ref={box}>
      <svg width={width_px} height="40" role="img" aria-label={spokenOf(numbers)}>
        <line class="ln thick" x1={x(1)} x2={x(last + 1)} y1="14" y2="14" />
        {runs.map((run) => (
          <g key={run.first}>
            <rect class="fill-ground" x={run.from} y="6" width={run.to - run.from} height="16" />
            {isGap(run.why) ? (
              <path class="ln thin" d={`M${run.from} 6V22M${run.to} 6V22`} />
            ) : (
              <rect
                class="ln medium fill-panel"
                x={run.from}
                y="9"
                width={run.to - run.from}
                height="10"
              />
            )}
          </g>
        ))}
        {ticks(last).map((serial) => (
          <path key={serial} class="ln thin" d={`M${x(serial)} 14V24`} />
        ))}
        {last > 2 && (
          <text class="px14" x={x(1)} y="38">
            1
          </text>
        )}
        <text class="px14 end" x={x(last + 1)} y="38">
          {last}
        </text>
      </svg>
    </div>
  );
}

function isGap(why: string): boolean {
  return GAPS.includes(why) || why.startsWith('not in');
}

/** A tick at every tenth number, of long lines at every hundredth. */
function ticks(last: number): number[] {
  const every = last > 400 ? 100 : 10;
  return Array.from({ length: Math.floor(last / every) }, (_, n) => (n + 1) * every);
}

function serialOf(number: string | null): number {
  return number ? Number(number.split('/')[1]) : 0;
}

function spokenOf({ first, last, words }: Numbers): string {
  const said = words.map((one) => `${rangeWords(one)} ${one.why}`);
  return `Numbers ${first ?? 'none'} to ${last ?? 'none'}${said.length > 0 ? `: ${said.join(', ')}` : ''}`;
}

import { render } from 'preact';
import { useRef } from 'preact/hooks';
import { ErrorFrame, Key, Sheet, TitleBlock, useWidth } from '../../furniture';
import type { AgainStep, AgainTold } from '../../services/again';
import './again_sheet.css';

interface Failure {
  reason: string;
  /** true: try again; false: go on with what there is. */
  answer: (again: boolean) => void;
}

/** What stands while a new version works the book out again; nobody is signed in yet. */
export function AgainSheet({ step, failure }: { step: AgainStep; failure?: Failure | undefined }) {
  const progress = step === 'waits' ? null : step;
  const count = progress && `${figures(progress.done)} of ${figures(progress.of)}`;
  const cells = [
    { caption: 'Sheet', value: 'New version' },
    { caption: 'Records', value: count ?? '–' },
  ];
  return (
    <Sheet layout="airframe" title={<TitleBlock variant="airframe" cells={cells} />}>
      <div class="again">
        <h1>Skinpin</h1>
        <h2>
          {count ? `Working the book out again: ${count} records` : 'Another tab comes first'}
        </h2>
        {progress && <RecordScale {...progress} />}
        {!progress && <p role="status">{WAITS}</p>}
        {failure && <Failed {...failure} />}
        <p class="again-why">{WHY}</p>
      </div>
    </Sheet>
  );
}

const WAITS =
  'Another tab of this browser has the book open, or works it out again. This one goes on by itself when that is done. If the version before is open there, close it.';
const WHY =
  'This version judges, grades and lists what was recorded by its own rules. Nothing recorded is changed, and what waits to be sent still waits. If the page is closed, it goes on where it was.';

function Failed({ reason, answer }: Failure) {
  return (
    <ErrorFrame title="The book was not worked out again" text={`${reason} Nothing is lost.`}>
      <Key label="TRY AGAIN" kind="main" onPress={() => answer(true)} />
      <Key
        label="GO ON"
        second="with what the version before worked out"
        onPress={() => answer(false)}
      />
    </ErrorFrame>
  );
}

const MARGIN_PX = 24;
const HEIGHT_PX = 88;

/** A scale of records: set out in thin lines, inked as far as it is worked out. */
function RecordScale({ done, of }: { done: number; of: number }) {
  const box = useRef<HTMLDivElement>(null);
  const width_px = useWidth(box, 800);
  const x = (count: number) => MARGIN_PX + (count / Math.max(of, 1)) * (width_px - 2 * MARGIN_PX);
  const flag_x = Math.min(Math.max(x(done) - 44, 2), width_px - 90);
  return (
    <div
      ref={box}
      class="record-scale"
      role="progressbar"
      aria-label="Records worked out again"
      aria-valuemin={0}
      aria-valuemax={of}
      aria-valuenow={done}
    >
      <svg width={width_px} height={HEIGHT_PX} aria-hidden="true">
        <line class="ln-second thin chain" x1={x(0)} x2={x(of)} y1={80} y2={80} />
        <line class="ln thick" x1={x(0)} x2={x(done)} y1={80} y2={80} />
        {ticks(of).map((count) => (
          <g key={count}>
            <line class={inked(count <= done)} x1={x(count)} x2={x(count)} y1={56} y2={80} />
            <text class="px14" x={x(count) + 5} y={70}>
              {figures(count)}
            </text>
          </g>
        ))}
        <rect class="fill-ink" x={flag_x} y={4} width={88} height={26} />
        <text class="px20 bold mid on-ink" x={flag_x + 44} y={24}>
          {figures(done)}
        </text>
        <path class="fill-ink" d={`M${x(done)} 80l-8 -17h16z`} />
        <line class="ln thin" x1={x(done)} x2={x(done)} y1={30} y2={66} />
      </svg>
    </div>
  );
}

const inked = (isDone: boolean) => (isDone ? 'ln medium' : 'ln-second thin chain');

/** Round counts, ten at most. */
function ticks(of: number): number[] {
  const least = Math.max(of / 10, 1);
  const ten = 10 ** Math.floor(Math.log10(least));
  const step = [1, 2, 5, 10].map((times) => times * ten).find((one) => one >= least) ?? least;
  return Array.from({ length: Math.floor(of / step) + 1 }, (_, at) => at * step);
}

const figures = (count: number) => String(count).replace(/\B(?=(\d{3})+$)/g, ',');

/** Shows in `root` how far the book is worked out again, and asks what to do where that fails. */
export function againOn(root: Element): AgainTold {
  let last: AgainStep = { done: 0, of: 0 };
  const show = (failure?: Failure) => render(<AgainSheet step={last} failure={failure} />, root);
  return {
    tell(step) {
      last = step;
      show();
    },
    failed: (reason) =>
      new Promise((answered) => {
        const answer = (again: boolean) => {
          show();
          answered(again);
        };
        show({ reason, answer });
      }),
  };
}

import type { ComponentChildren } from 'preact';
import './figure.css';

/** Ruled table of measured values; cells share their lines. */
export function FigureTable({
  children,
  label,
}: {
  children: ComponentChildren;
  label?: string | undefined;
}) {
  return (
    <fieldset class="figure-table" aria-label={label ?? 'Figures'}>
      {children}
    </fieldset>
  );
}

export interface FigureCellProps {
  caption: string;
  /** As typed; "not measured" is a value, a blank is none. */
  value: string;
  unit?: string | undefined;
  /** The other unit, the gauge number, what is still to do. */
  second?: string | undefined;
  /** Words rather than a figure: set smaller. */
  words?: boolean | undefined;
  /** A list of words: smaller still. */
  small?: boolean | undefined;
  /** A figure from elsewhere that is still to be measured: lighter. */
  hint?: boolean | undefined;
  /** A figure that counts no longer: struck through, what it was can still be read. */
  struck?: boolean | undefined;
  active?: boolean | undefined;
  /** How many thirds of the table it takes. */
  span?: 1 | 2 | 3 | undefined;
  onOpen?: (() => void) | undefined;
}

/** One measured value. The active one has a 4 px main frame on panel. */
export function FigureCell(props: FigureCellProps) {
  const { active = false, span = 1, onOpen } = props;
  const names = `figure-cell span-${span}${active ? ' active' : ''}`;
  if (!onOpen)
    return (
      <div class={names}>
        <FigureWords {...props} />
      </div>
    );
  return (
    <button type="button" class={names} aria-current={active ? 'true' : undefined} onClick={onOpen}>
      <FigureWords {...props} />
    </button>
  );
}

function FigureWords(props: FigureCellProps) {
  const { caption, value, unit, second, words, small, hint, struck } = props;
  const is_words = words ?? !/\d/.test(value);
  const size = small ? ' words small' : is_words ? ' words' : '';
  return (
    <>
      <span class="figure-caption">{caption}</span>
      <span class="figure-line">
        <span class={`figure-value${size}${hint ? ' hint' : ''}${struck ? ' struck' : ''}`}>
          {value}
          {unit !== undefined && <span class="figure-unit"> {unit}</span>}
        </span>
        {second !== undefined && <span class="figure-second">{second}</span>}
      </span>
    </>
  );
}

export interface FigureLine {
  name: string;
  value: string;
  second?: string | undefined;
  /** Counts no longer: struck through. */
  struck?: boolean | undefined;
}

/** Figures one under the other, as at the desk: name, value, the other unit. */
export function FigureLines({ lines }: { lines: FigureLine[] }) {
  return (
    <dl class="figure-lines">
      {lines.map((line) => (
        <div key={line.name}>
          <dt>{line.name}</dt>
          <dd>
            <b class={line.struck ? 'struck' : undefined}>{line.value}</b>
            <span class="figure-line-second">{line.second ?? ''}</span>
          </dd>
        </div>
      ))}
    </dl>
  );
}

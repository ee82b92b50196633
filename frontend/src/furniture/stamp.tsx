import './stamp.css';

export type StampAct =
  | 'INSPECTED'
  | 'INDEPENDENT'
  | 'DISPOSITION'
  | 'OVERRULE'
  | 'PREPARED'
  | 'CHECKED'
  | 'ISSUED'
  | 'RE-INSPECTED'
  | 'CLEAR TO CLOSE';

export interface StampProps {
  act: StampAct;
  /** Number of the stamp, as its holder has it: "01". */
  number: string;
  role_name: string;
  date: string;
  /** Set down just now: the ink spreads for 120 ms. */
  fresh?: boolean | undefined;
}

const WIDTH: Partial<Record<StampAct, number>> = { 'RE-INSPECTED': 126, 'CLEAR TO CLOSE': 160 };
const TURNS = [-2, 1.5, -1.5, 1, -1, 2];
const HEIGHT = 80;

/** A stamp: violet means that a person signed. The act on top, then number, role, date. */
export function Stamp(props: StampProps) {
  const { act, number, role_name, date } = props;
  const width = WIDTH[act] ?? 112;
  const twice = act === 'RE-INSPECTED';
  const lines = twice ? [19, 41, 54, 70] : [18, 41, 56, 72];
  return (
    <svg
      class={props.fresh ? 'stamp fresh' : 'stamp'}
      role="img"
      aria-label={`Stamp: ${act}, number ${number}, ${role_name}, ${date}`}
      width={width}
      height={HEIGHT}
      viewBox={`0 0 ${width} ${HEIGHT}`}
    >
      <g transform={`rotate(${turnOf(props)} ${width / 2} ${HEIGHT / 2})`}>
        <rect class="stamp-edge" x="1.5" y="1.5" width={width - 3} height={HEIGHT - 3} rx="9" />
        {twice && (
          <rect
            class="stamp-inner"
            x="5.5"
            y="5.5"
            width={width - 11}
            height={HEIGHT - 11}
            rx="6"
          />
        )}
        {[act, number, role_name, date].map((text, at) => (
          <text key={text} class={`stamp-text stamp-line-${at + 1}`} x={width / 2} y={lines[at]}>
            {text}
          </text>
        ))}
      </g>
    </svg>
  );
}

/** The same stamp is always turned by the same angle. */
function turnOf({ act, number, date }: StampProps): number {
  let sum = 0;
  for (const letter of act + number + date) sum += letter.charCodeAt(0);
  return TURNS[sum % TURNS.length] ?? 1;
}

export interface UnsignedStampProps {
  /** Outside the outline: "stage stamp, lead". */
  caption: string;
  width?: number | undefined;
  height?: number | undefined;
}

/** Place of a stamp nobody has set yet: an empty thin outline, upright, its caption outside. */
export function UnsignedStamp({ caption, width = 112, height = 80 }: UnsignedStampProps) {
  return (
    <figure class="unsigned">
      <svg role="img" aria-label="not signed" width={width} height={height}>
        <rect class="unsigned-edge" x="0.5" y="0.5" width={width - 1} height={height - 1} rx="9" />
      </svg>
      <figcaption>{caption}</figcaption>
    </figure>
  );
}

export interface StampPairProps {
  first: StampProps;
  /** The independent inspection; nothing yet: an empty outline beside the first. */
  second?: StampProps | undefined;
  caption?: string | undefined;
}

/** Independent inspection: two stamps joined by a short line. */
export function StampPair({ first, second, caption }: StampPairProps) {
  return (
    <div class="stamp-pair">
      <Stamp {...first} />
      <span class="stamp-join" aria-hidden="true" />
      {second ? (
        <Stamp {...second} />
      ) : (
        <UnsignedStamp caption={caption ?? 'independent, to sign'} />
      )}
    </div>
  );
}

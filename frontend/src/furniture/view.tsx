import type { ComponentChildren } from 'preact';
import { textWidth } from './measured.ts';
import './view.css';

export type Fwd = 'left' | 'right' | 'up' | 'down' | 'towards you' | 'away from you';

/** Where the nose lies on a view. Along the view it is a ring with a dot, and says so. */
export function FwdArrow({ fwd }: { fwd: Fwd }) {
  return (
    <span class="fwd">
      <FwdSign fwd={fwd} />
      <span class="fwd-words">{fwdWords(fwd)}</span>
    </span>
  );
}

function fwdWords(fwd: Fwd): string {
  if (fwd === 'towards you') return 'FWD, TOWARDS YOU';
  return fwd === 'away from you' ? 'FWD, AWAY FROM YOU' : 'FWD';
}

const TURN: Record<'left' | 'right' | 'up' | 'down', number> = {
  left: 0,
  up: 90,
  right: 180,
  down: 270,
};

function FwdSign({ fwd }: { fwd: Fwd }) {
  if (fwd === 'towards you' || fwd === 'away from you')
    return (
      <svg aria-hidden="true" width="18" height="18">
        <circle class="ln medium" cx="9" cy="9" r="8" />
        {fwd === 'towards you' ? (
          <circle class="fill-ink" cx="9" cy="9" r="2.5" />
        ) : (
          <path class="ln medium" d="M3.4 3.4L14.6 14.6M14.6 3.4L3.4 14.6" />
        )}
      </svg>
    );
  const upright = fwd === 'up' || fwd === 'down';
  return (
    <svg aria-hidden="true" width={upright ? 12 : 30} height={upright ? 30 : 12}>
      <g transform={`translate(${upright ? 6 : 15} ${upright ? 15 : 6}) rotate(${TURN[fwd]})`}>
        <path class="ln medium" d="M-7 0H15" />
        <path class="fill-ink" d="M-15 0l12 -5v10z" />
      </g>
    </svg>
  );
}

export interface ViewFrameProps {
  /** Says what and from where: "SHELL EXPANSION, SEEN FROM INSIDE". */
  title: string;
  /** A section has no direction and no arrow. */
  fwd?: Fwd | undefined;
  /** "touch picks the bay". */
  second?: string | undefined;
  children: ComponentChildren;
}

/** A view with its title and the arrow to the nose. */
export function ViewFrame({ title, fwd, second, children }: ViewFrameProps) {
  return (
    <figure class="view">
      <figcaption class="view-head">
        {fwd === 'left' && <FwdArrow fwd={fwd} />}
        <span class="view-title">{title}</span>
        {second !== undefined && <span class="view-second">{second}</span>}
        {fwd !== undefined && fwd !== 'left' && <FwdArrow fwd={fwd} />}
      </figcaption>
      {children}
    </figure>
  );
}

export interface AreaMeantProps {
  /** Outline as an SVG path. */
  d: string;
  name: string;
  /** Middle of the name. */
  x: number;
  y: number;
}

/** The area meant: thick long-dash-dot outline with its name, never hatched. */
export function AreaMeant({ d, name, x, y }: AreaMeantProps) {
  const wide = textWidth(name, 16, true) + 12;
  return (
    <g>
      <path class="area-meant" d={d} />
      <rect class="fill-ground" x={x - wide / 2} y={y - 11} width={wide} height={22} />
      <text class="bold px16 mid" x={x} y={y + 6}>
        {name}
      </text>
    </g>
  );
}

/** Ties a line of a table to the drawing: number in a circle, leader with a dot. */
export function Balloon(props: {
  number: string;
  x: number;
  y: number;
  to?: { x: number; y: number } | undefined;
}) {
  const { number, x, y, to } = props;
  return (
    <g>
      {to && <path class="ln medium" d={`M${x} ${y}L${to.x} ${to.y}`} />}
      {to && <circle class="fill-ink" cx={to.x} cy={to.y} r="4" />}
      <circle class="ln medium fill-ground" cx={x} cy={y} r="15" />
      <text class="bold mid" font-size="17" x={x} y={y + 6}>
        {number}
      </text>
    </g>
  );
}

/** Names the corner a detail comes from: a ringed point and a line that leads to its picture. */
export function DetailLeader({ at, path }: { at: { x: number; y: number }; path: string }) {
  return (
    <g>
      <path class="ln medium" d={`M${at.x} ${at.y}${path}`} />
      <circle class="ln thick fill-ground" cx={at.x} cy={at.y} r="6" />
    </g>
  );
}

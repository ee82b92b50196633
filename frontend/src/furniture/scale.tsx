import { useMemo, useRef } from 'preact/hooks';
import { useWidth } from './measured.ts';
import {
  coveredTicks,
  lowerNames,
  type ScaleMember,
  type ScaleWindow,
  stationAt,
  stationText,
  stationX,
  unitTicks,
  upperNames,
  wholeOf,
} from './ticks.ts';
import './scale.css';

export interface StationScaleProps {
  members: ScaleMember[];
  /** Part shown in the lower strip; the view below must use the same (stationX). */
  window: ScaleWindow;
  position: number;
  /** The position as it is written on the flag; the figure itself unless said. */
  position_text?: string | undefined;
  /** "Sta" on the hull, "WS" on a wing. */
  axis?: string | undefined;
  /** Arrow keys step by this much. */
  step?: number | undefined;
  onPick?: ((station: number) => void) | undefined;
}

/** Top border at the airframe: the whole structure, the position flag, and a window at true spacing. */
export function StationScale(props: StationScaleProps) {
  const box = useRef<HTMLDivElement>(null);
  const width_px = useWidth(box, 800);
  const whole = wholeOf(props.members);
  return (
    <div class="station-scale" ref={box} {...handle(props, whole, width_px)}>
      <svg width={width_px} height="100" aria-hidden="true">
        <UpperStrip {...props} whole={whole} width_px={width_px} />
        <LowerStrip {...props} width_px={width_px} />
        <Flag {...props} width_px={width_px} />
      </svg>
    </div>
  );
}

function handle(props: StationScaleProps, whole: ScaleWindow, width_px: number) {
  const { onPick, position } = props;
  const text = `${props.axis ?? 'Sta'} ${flagText(props)}`;
  if (!onPick) return { role: 'img', 'aria-label': `Station scale at ${text}` } as const;
  const first = props.members[0]?.station ?? 0;
  const last = props.members.at(-1)?.station ?? 0;
  const pick = (station: number) => onPick(Math.min(Math.max(station, first), last));
  return {
    role: 'slider',
    tabIndex: 0,
    'aria-label': 'Station',
    'aria-valuemin': first,
    'aria-valuemax': last,
    'aria-valuenow': position,
    'aria-valuetext': text,
    onClick: (event: MouseEvent) => {
      const frame = (event.currentTarget as Element).getBoundingClientRect();
      const strip = event.clientY - frame.top < 30 ? whole : props.window;
      pick(stationAt(strip, width_px, event.clientX - frame.left));
    },
    onKeyDown: (event: KeyboardEvent) => {
      const next = stepped(event.key, position, props.step ?? 0.5, first, last);
      if (next === undefined) return;
      event.preventDefault();
      pick(next);
    },
  } as const;
}

function stepped(key: string, at: number, step: number, first: number, last: number) {
  if (key === 'ArrowRight' || key === 'ArrowUp') return at + step;
  if (key === 'ArrowLeft' || key === 'ArrowDown') return at - step;
  if (key === 'PageUp') return at + 10 * step;
  if (key === 'PageDown') return at - 10 * step;
  if (key === 'Home') return first;
  return key === 'End' ? last : undefined;
}

function flagText(props: StationScaleProps): string {
  return props.position_text ?? stationText(props.position);
}

function UpperStrip(props: StationScaleProps & { whole: ScaleWindow; width_px: number }) {
  const { members, whole, width_px, window } = props;
  const x = (station: number) => stationX(whole, width_px, station);
  const left = Math.max(x(window.from), 24);
  const right = Math.min(x(window.to), width_px - 24);
  const lines = useMemo(
    () =>
      members.map((member) => (
        <line
          key={member.name}
          class={member.main ? 'ln medium' : 'ln thin'}
          x1={x(member.station)}
          x2={x(member.station)}
          y1={8}
          y2={member.main ? 15 : member.half ? 11 : 13}
        />
      )),
    [members, width_px],
  );
  return (
    <>
      <rect
        class="ln medium fill-panel"
        x={left}
        y={8}
        width={Math.max(right - left, 2)}
        height={20}
      />
      <line class="ln thin" x1={24} x2={width_px - 24} y1={8} y2={8} />
      <line class="ln window-tick" x1={x(props.position)} x2={x(props.position)} y1={8} y2={28} />
      {lines}
      {upperNames(members, whole, width_px, window, x(props.position)).map((name) => (
        <text
          key={name.member.name}
          class={name.inside ? 'px14 mid bold' : 'px14 mid'}
          x={name.x}
          y={26}
        >
          {name.member.name}
        </text>
      ))}
    </>
  );
}

function LowerStrip(props: StationScaleProps & { width_px: number }) {
  const { members, window, width_px } = props;
  const x = (station: number) => stationX(window, width_px, station);
  const names = lowerNames(members, window, width_px, x(props.position));
  const covered = coveredTicks(names, members, window, width_px);
  const lines = useMemo(() => {
    const within = members.filter(({ station }) => station >= window.from && station <= window.to);
    const shorts = unitTicks(window, width_px).map(
      (tick) => `M${x(tick.station)} 88V${tick.long ? 79 : 83}`,
    );
    return (
      <>
        <path class="ln thin" d={shorts.join('')} />
        {within.map((member) => (
          <line
            key={member.name}
            class={member.main ? 'ln thick' : 'ln medium'}
            x1={x(member.station)}
            x2={x(member.station)}
            y1={covered.includes(member) ? 77 : member.half ? 74 : 56}
            y2={88}
          />
        ))}
      </>
    );
  }, [members, window, width_px, covered.map(({ name }) => name).join()]);
  return (
    <>
      {lines}
      {names.map((name) => (
        <text
          key={name.member.name}
          class={`px${name.size_px} ${name.is_bold ? 'bold' : ''} ${name.anchor === 'end' ? 'end' : ''}`}
          x={name.x}
          y={73}
        >
          {name.member.name}
          {name.with_station && (
            <tspan class="scale-station" dx="5">
              {stationText(name.member.station)}
            </tspan>
          )}
        </text>
      ))}
      <line class="ln thick" x1={24} x2={width_px - 24} y1={88} y2={88} />
    </>
  );
}

/** Above the names: only its pointer stands in the ticks, so it hides nothing. */
function Flag(props: StationScaleProps & { width_px: number }) {
  const { window, width_px } = props;
  const true_x = stationX(window, width_px, props.position);
  const x = Math.min(Math.max(true_x, 24), width_px - 24);
  const box_x = Math.min(Math.max(x - 36, 6), width_px - 78);
  return (
    <g class="scale-flag">
      <rect class="fill-ink" x={box_x} y={31} width={72} height={24} />
      <text class="px20 bold mid on-ink" x={box_x + 36} y={50}>
        {flagText(props)}
      </text>
      <line class="ln thin" x1={x} x2={x} y1={54} y2={80} />
      <path class="flag-pointer" d={`M${x} 97l-8 -17h16z`} />
    </g>
  );
}

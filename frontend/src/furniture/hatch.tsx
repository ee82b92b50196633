import { useId } from 'preact/hooks';
import { textWidth } from './measured.ts';
import './hatch.css';

export interface HatchProps {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** Cut metal: 45° lines 9 px apart. One of the two uses of a hatch. */
export function CutMetal(props: HatchProps) {
  return <Hatched {...props} step={9} kind="cut" />;
}

export interface NotLookedAtProps extends HatchProps {
  /** Lines for the words; a narrow field takes two, a narrow upright one turns them. */
  turned?: boolean | undefined;
  letters_px?: 14 | 16 | undefined;
  /** Leave the hatch unlettered: only for a field that joins one which carries the words. */
  joins?: boolean | undefined;
}

/** Not looked at: hatched, and it always says so. */
export function NotLookedAt(props: NotLookedAtProps) {
  const { x, y, width, height, letters_px = 16 } = props;
  const room = props.turned ? height : width;
  const one_px = textWidth('NOT LOOKED AT', letters_px, true);
  const lines = room >= one_px + 18 ? ['NOT LOOKED AT'] : ['NOT', 'LOOKED AT'];
  return (
    <g>
      <Hatched x={x} y={y} width={width} height={height} step={7} kind="unseen" />
      {!props.joins && (
        <g
          transform={`translate(${x + width / 2} ${y + height / 2})${props.turned ? ' rotate(-90)' : ''}`}
        >
          {lines.map((line, at) => (
            <HatchWords
              key={line}
              text={line}
              letters_px={letters_px}
              y={(at - (lines.length - 1) / 2) * (letters_px + 5)}
            />
          ))}
        </g>
      )}
    </g>
  );
}

function HatchWords({ text, letters_px, y }: { text: string; letters_px: number; y: number }) {
  const wide = textWidth(text, letters_px, true) + 16;
  return (
    <>
      <rect
        class="fill-ground"
        x={-wide / 2}
        y={y - letters_px * 0.8}
        width={wide}
        height={letters_px * 1.55}
      />
      <text class="bold mid" y={y + letters_px * 0.33} font-size={letters_px}>
        {text}
      </text>
    </>
  );
}

function Hatched(props: HatchProps & { step: number; kind: 'cut' | 'unseen' }) {
  const id = useId();
  const { step } = props;
  return (
    <>
      <pattern
        id={id}
        width={step}
        height={step}
        patternUnits="userSpaceOnUse"
        patternTransform="rotate(45)"
      >
        <path class={`hatch-${props.kind}`} d={`M0 0V${step}`} />
      </pattern>
      <rect
        x={props.x}
        y={props.y}
        width={props.width}
        height={props.height}
        fill={`url(#${id})`}
      />
    </>
  );
}

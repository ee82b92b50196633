import { AID } from '../../domain/photo_measure';
import type { Measuring, Told } from './measuring';
import { tapOf } from './placing';

export interface ReadoutProps {
  measuring: Measuring;
  /** The same in the other unit. */
  other: Told | null;
  /** What a key has to say: why no depth. */
  note: string | null;
}

/** The figure with its ±, the terms that make it, and what may make it wrong by more. */
export function Readout({ measuring, other, note }: ReadoutProps) {
  const { mode, now, placing, chosen, standing, most } = measuring;
  if (note) return <Said big={note} />;
  if (mode.at === 'points') {
    const left = most - placing.points.length;
    const said = left > 0 ? `${left} to touch` : 'Nudge each on to its spot, then keep the scale.';
    return <Said big={mode.touch} small={said} />;
  }
  if (mode.at === 'scale')
    return <Said big="What lies beside it?" small="It must lie flat in the plane of the defect." />;
  if (mode.at === 'measure' && mode.shape === 'outline')
    return <Said big="Touch round the area." small="An outline is a mark: it has no figure." />;
  if (!now && standing && !standing.scale)
    return <Said big="No scale is set." small="Set a scale first: nothing has a length without." />;
  if (!now) return <Said big="Touch the picture." small="A touch, then the keys." />;
  if ('why' in now) return <Said big={now.why} small={now.hint} />;
  const { told } = now;
  const points = placing.points.length > 0;
  const shape = points && mode.at === 'measure' ? mode.shape : chosen?.shape;
  const isTouched = placing.points.some(({ fine }) => !fine);
  const by = isTouched ? 'finger' : points ? 'loupe' : 'touch';
  const tap = points ? tapOf(placing.points) : chosen?.tap;
  const second = other && 'told' in other ? `${other.told.words}, ` : '';
  return (
    <div class="readout" role="status">
      <p class="readout-figure">
        <b>{told.words}</b>
        {shape === 'polyline' && <span> along</span>}
        {shape === 'diameter' && <span> across</span>}
      </p>
      <p>{`${second}k = 2, ${by} ${tap} px`}</p>
      <p>
        {`${told.terms.map((one) => `${one.of} ${one.value}`).join(', ')}: `}
        <b>{`± ${told.uncertainty}`}</b>
      </p>
      <ul class="readout-warnings">
        {isTouched && <li>Touched only: look at each point in the loupe.</li>}
        {told.warnings.map((one) => (
          <li key={one.code}>{one.words}</li>
        ))}
        <li>{`${AID[0]?.toUpperCase()}${AID.slice(1)}.`}</li>
      </ul>
    </div>
  );
}

function Said({ big, small }: { big: string; small?: string }) {
  return (
    <div class="readout" role="status">
      <p class="readout-said">{big}</p>
      {small && <p>{small}</p>}
    </div>
  );
}

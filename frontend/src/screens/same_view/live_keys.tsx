import { useState } from 'preact/hooks';
import { Key } from '../../furniture';
import { chooseLive, isLiveChosen } from '../frame/camera_choice';
import type { Strength } from './ghost';
import type { ViewPicture } from './view_pictures';

export interface LiveKeysProps {
  strength: Strength;
  light: string | null;
  mirrored: boolean;
  ghost: ViewPicture | null;
  /** Other pictures that could lie over the view. */
  others: number;
  ready: boolean;
  busy: boolean;
  onStrength: (strength: Strength) => void;
  onLight: (light: string | null) => void;
  onMirror: () => void;
  onOther: () => void;
  onFile: () => void;
  onBack: () => void;
  onShutter: () => void;
  onTouchOff: () => void;
}

const STRENGTHS: readonly [Strength, string, string][] = [
  [20, '20 %', 'faint'],
  [40, '40 %', 'half'],
  [60, '60 %', 'strong'],
  ['outline', 'OUTLINE', 'edges alone'],
  ['none', 'NONE', 'a new view'],
];
/** Where the inspection lamp stands, seen from the defect. */
export const LAMPS = ['forward', 'aft', 'above', 'below'] as const;

/** How the earlier picture lies over the view, where the lamp stands, and the shutter. */
export function LiveKeys(props: LiveKeysProps) {
  const { strength, ghost, mirrored } = props;
  return (
    <div class="picture-keys live-keys">
      {STRENGTHS.map(([one, label, second]) => (
        <Key
          key={label}
          label={label}
          second={second}
          spoken={ghost ? `${label} ${second}, the earlier picture over the view` : undefined}
          size="inside"
          chosen={ghost !== null && one === strength}
          unavailable={ghost ? undefined : 'no earlier picture'}
          onPress={() => props.onStrength(one)}
        />
      ))}
      <LampKeys light={props.light} before={ghost?.light ?? null} onLight={props.onLight} />
      <Key
        label={'SEEN IN\nA MIRROR'}
        size="inside"
        second={mirrored ? 'shown turned' : 'flips it'}
        chosen={mirrored}
        onPress={props.onMirror}
      />
      <div class="live-also">
        <Key
          label={'OTHER\nPICTURE'}
          size="inside"
          second={`over it, of ${props.others + 1}`}
          unavailable={props.others > 0 ? undefined : 'no other'}
          onPress={props.onOther}
        />
        <Always />
        <Key
          label={'SYSTEM’S\nCAMERA'}
          size="inside"
          second="finer, without the view"
          onPress={props.onFile}
        />
      </div>
      <div class="picture-last live-last">
        <Key label={'TOUCH\nOFF'} second="ignore all" size="inside" onPress={props.onTouchOff} />
        <Key label="BACK" size="inside" second="no picture" onPress={props.onBack} />
        <Key
          label="SHUTTER"
          kind="main"
          letters={40}
          size="inside"
          second={ghost && strength !== 'none' ? 'the same view' : 'a new view'}
          unavailable={notNow(props)}
          onPress={props.onShutter}
        />
      </div>
    </div>
  );
}

function notNow({ ready, busy }: LiveKeysProps): string | undefined {
  if (!ready) return 'the camera is not open';
  return busy ? 'storing the picture' : undefined;
}

/** The lamp in one touch; the same key again takes it back. */
export function LampKeys(props: {
  light: string | null;
  /** Where it stood for the earlier picture. */
  before: string | null;
  size?: 'inside' | 'small';
  onLight: (light: string | null) => void;
}) {
  const { light, before, size = 'inside', onLight } = props;
  return (
    <>
      {LAMPS.map((lamp) => (
        <Key
          key={lamp}
          label={lamp.toUpperCase()}
          second={lamp === before ? 'lamp from\nas before' : 'lamp from'}
          size={size}
          chosen={light === lamp}
          onPress={() => onLight(light === lamp ? null : lamp)}
        />
      ))}
    </>
  );
}

/** Whether every shutter of this browser opens the live view. */
function Always() {
  const [is_live, setLive] = useState(isLiveChosen());
  return (
    <Key
      label={'LIVE AT\nSHUTTER'}
      size="inside"
      second={is_live ? 'always' : 'no: system’s'}
      chosen={is_live}
      onPress={() => {
        chooseLive(!is_live);
        setLive(!is_live);
      }}
    />
  );
}

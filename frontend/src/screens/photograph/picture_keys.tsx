import { useState } from 'preact/hooks';
import { Key } from '../../furniture';
import type { PhotographRole } from '../../services/shop';
import { Picked } from '../airframe/picked';
import type { Undoing } from '../airframe/undoing';
import {
  MARK_KINDS,
  type MarkKind,
  nudged,
  type Placed,
  resized,
  type Size,
  turned,
} from './placed';
import { ROLES } from './roles';

export interface PictureKeysProps {
  kind: MarkKind;
  placed: Placed | null;
  size: Size;
  /** Marks stored on the picture. */
  kept: number;
  /** The mark shown was touched or stepped: UNDO takes the placing back. */
  touched: boolean;
  role: string;
  mirrored: boolean;
  undo: Undoing;
  onKind: (kind: MarkKind) => void;
  onPlaced: (placed: Placed) => void;
  onKeep: () => void;
  onRole: (role: PhotographRole) => void;
  onMirror: () => void;
  onMore: () => void;
  onUndo: () => void;
  onNext: () => void;
  onTouchOff: () => void;
}

const GROW = 1.15;
const ARROWS: Readonly<Record<string, string>> = { LEFT: '◄', UP: '▲', DOWN: '▼', RIGHT: '►' };

/** What the wax pencil draws, steps for what was placed, what the picture is, and the way on. */
export function PictureKeys(props: PictureKeysProps) {
  const { kind, placed, touched, kept, undo } = props;
  const [choosing, setChoosing] = useState(false);
  if (choosing) return <Roles {...props} onDone={() => setChoosing(false)} />;
  return (
    <div class="picture-keys">
      {MARK_KINDS.map((one) => (
        <Key
          key={one}
          label={one.toUpperCase()}
          size="inside"
          second={one === kind && placed ? 'again: none' : 'wax pencil'}
          chosen={one === kind && placed !== null}
          onPress={() => props.onKind(one)}
        />
      ))}
      <StepKeys {...props} />
      <AboutKeys {...props} />
      <Key
        label="SHOWS"
        size="inside"
        second={props.role}
        place="k-role"
        onPress={() => setChoosing(true)}
      />
      <div class="picture-last">
        <Key label={'TOUCH\nOFF'} second="ignore all" size="inside" onPress={props.onTouchOff} />
        <Key
          label="UNDO"
          kind="undo"
          size="inside"
          second={touched ? 'this placing' : undo.second}
          unavailable={touched ? undefined : undo.unavailable}
          onPress={props.onUndo}
        />
        <Key
          label={`KEEP\nTHE ${(placed?.kind ?? kind).toUpperCase()}`}
          size="inside"
          unavailable={placed ? undefined : 'touch the picture'}
          onPress={props.onKeep}
        />
        <Key
          label="MEASURE ►"
          second={
            placed && touched
              ? `keeps the ${placed.kind}`
              : kept > 0
                ? 'kind and figures'
                : 'without a mark'
          }
          kind="main"
          letters={28}
          size="inside"
          onPress={props.onNext}
        />
      </div>
    </div>
  );
}

/** Moves and sizes by steps what was placed by touch. */
function StepKeys({ placed, size, mirrored, onPlaced }: PictureKeysProps) {
  const step = Math.max(1, Math.round(size.width_px / 400));
  // A picture seen in a mirror is shown turned: its left lies right in its own pixels.
  const left = mirrored ? step : -step;
  const none = placed ? undefined : 'touch the picture';
  const keys = [
    { label: 'LEFT', change: (mark: Placed) => nudged(mark, left, 0, size) },
    { label: 'UP', change: (mark: Placed) => nudged(mark, 0, -step, size) },
    { label: 'DOWN', change: (mark: Placed) => nudged(mark, 0, step, size) },
    { label: 'RIGHT', change: (mark: Placed) => nudged(mark, -left, 0, size) },
    { label: 'TURN', change: turned },
    { label: 'LARGER', change: (mark: Placed) => resized(mark, GROW, size) },
    { label: 'SMALLER', change: (mark: Placed) => resized(mark, 1 / GROW, size) },
  ];
  return (
    <>
      {keys.map(({ label, change }) => (
        <Key
          key={label}
          label={label}
          picture={ARROWS[label] && <span aria-hidden="true">{ARROWS[label]}</span>}
          second={ARROWS[label] ? `${step} px` : label === 'TURN' ? '15°' : undefined}
          size="inside"
          unavailable={none}
          onPress={() => placed && onPlaced(change(placed))}
        />
      ))}
    </>
  );
}

/** Whether the picture was seen in a mirror; and one more. */
function AboutKeys(props: PictureKeysProps) {
  const { role, mirrored } = props;
  return (
    <>
      <Key
        label={'SEEN IN\nA MIRROR'}
        size="inside"
        second={mirrored ? 'shown turned' : 'flips it'}
        chosen={mirrored}
        onPress={props.onMirror}
      />
      <Key
        label="ONE MORE"
        size="inside"
        second={role === 'wide' ? 'close picture' : 'picture'}
        onPress={props.onMore}
      />
    </>
  );
}

/** What the picture shows: six to choose from, in the order in which they are taken. */
function Roles({ role, onRole, onDone }: PictureKeysProps & { onDone: () => void }) {
  return (
    <Picked
      label="What the picture shows"
      words="What does this picture show?"
      back={`it stays ${role}`}
      onBack={onDone}
      options={ROLES.map((one) => ({
        label: one.toUpperCase().replace(' ', '\n'),
        chosen: one === role,
        onPick: () => {
          onRole(one);
          onDone();
        },
      }))}
    />
  );
}

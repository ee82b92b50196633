import { Key, KeyRow } from '../../furniture';
import {
  MARK_KINDS,
  type MarkKind,
  nudged,
  type Placed,
  resized,
  type Size,
  turned,
} from './placed';

interface PictureKeysProps {
  placed: Placed | null;
  size: Size;
  /** Marks stored on the picture. */
  kept: number;
  busy: boolean;
  /** A mark was touched or stepped and is not stored yet: going on stores it. */
  touched: boolean;
  onPlaced: (placed: Placed) => void;
  onKeep: () => void;
  /** Nothing to undo: left out. */
  onUndo: (() => void) | undefined;
  onNext: () => void;
  onTouchOff: () => void;
}

const GROW = 1.15;

/** Keys that move, size and turn the mark by steps, and the one that keeps it. */
export function PictureKeys(props: PictureKeysProps) {
  const { placed, size } = props;
  const step = Math.max(1, Math.round(size.width_px / 160));
  const none = placed ? undefined : 'touch the picture';
  const change = (make: (mark: Placed) => Placed) => placed && props.onPlaced(make(placed));
  const moves = [
    { label: 'LEFT', dx: -step, dy: 0 },
    { label: 'UP', dx: 0, dy: -step },
    { label: 'DOWN', dx: 0, dy: step },
    { label: 'RIGHT', dx: step, dy: 0 },
  ];
  return (
    <div class="picture-keys">
      {moves.map(({ label, dx, dy }) => (
        <Key
          key={label}
          label={label}
          second={`${step} px`}
          size="inside"
          unavailable={none}
          onPress={() => change((mark) => nudged(mark, dx, dy, size))}
        />
      ))}
      <Key
        label="LARGER"
        size="inside"
        unavailable={none}
        onPress={() => change((mark) => resized(mark, GROW, size))}
      />
      <Key
        label="SMALLER"
        size="inside"
        unavailable={none}
        onPress={() => change((mark) => resized(mark, 1 / GROW, size))}
      />
      <Key
        label="TURN"
        second="15°"
        size="inside"
        unavailable={none}
        onPress={() => change(turned)}
      />
      <Key
        label={`KEEP\nTHE ${(placed?.kind ?? 'ring').toUpperCase()}`}
        size="inside"
        unavailable={none ?? (props.busy ? 'storing …' : undefined)}
        onPress={props.onKeep}
      />
      <Key
        label={'TOUCH\nOFF'}
        second="ignore all"
        size="inside"
        place="p-touch"
        onPress={props.onTouchOff}
      />
      <Key
        label="UNDO"
        kind="undo"
        size="inside"
        place="p-undo"
        second="last mark"
        unavailable={props.onUndo ? undefined : 'no mark kept yet'}
        onPress={props.onUndo}
      />
      <Key
        label="MEASURE ►"
        second={
          props.touched
            ? `keeps the ${placed?.kind ?? 'mark'}`
            : props.kept > 0
              ? 'kind and figures'
              : 'without a mark'
        }
        kind="main"
        letters={28}
        place="p-next"
        onPress={props.onNext}
      />
    </div>
  );
}

/** What the wax pencil draws next, and one more picture. */
export function ToolKeys(props: {
  kind: MarkKind;
  onKind: (kind: MarkKind) => void;
  onMore: () => void;
}) {
  return (
    <div class="tool-keys">
      <KeyRow label="Wax pencil">
        {MARK_KINDS.map((kind) => (
          <Key
            key={kind}
            label={kind.toUpperCase()}
            letters={18}
            chosen={kind === props.kind}
            onPress={() => props.onKind(kind)}
          />
        ))}
      </KeyRow>
      <Key label="ONE MORE" second="close picture" onPress={props.onMore} />
    </div>
  );
}

import { Key } from '../../furniture';
import type { Shop } from '../../services/shop';
import type { Alongside } from './alongside';
import type { Mode } from './comparing';
import { notKept } from './fit_words';
import { LampKeys } from './live_keys';
import { ModeKeys } from './mode_keys';
import type { Pair } from './pair';

export interface ViewKeysProps {
  shop: Shop;
  pair: Pair;
  alongside: Alongside;
  busy: boolean;
  onAsk: () => void;
  onKeep: () => void;
  onLight: (light: string | null) => void;
  onClosing: () => void;
  onEarlier: (photograph: string) => void;
  onAgain: () => void;
  onBack: () => void;
  onTouchOff: () => void;
}

const MODES: readonly [Mode, string, string][] = [
  ['rivets', 'RIVETS', 'three in both'],
  ['blink', 'BLINK', 'one, the other'],
  ['slide', 'SLIDER', 'part by part'],
  ['beside', 'BESIDE', 'side by side'],
];

/** How the two are looked at, the steps of that, the lamp, and the way on. */
export function ViewKeys(props: ViewKeysProps) {
  const { pair } = props;
  const { comparing } = pair;
  const none = pair.here && pair.earlier ? undefined : 'no earlier picture';
  return (
    <div class="picture-keys view-keys">
      {MODES.map(([mode, label, second]) => (
        <Key
          key={mode}
          label={label}
          second={second}
          size="inside"
          chosen={comparing.mode === mode}
          unavailable={none}
          onPress={() => comparing.setMode(mode)}
        />
      ))}
      <AskKey {...props} />
      <ModeKeys pair={pair} />
      <MoreKeys {...props} />
      <div class="picture-last">
        <Key label={'TOUCH\nOFF'} second="ignore all" size="inside" onPress={props.onTouchOff} />
        <Key label={'TAKE\nAGAIN'} second="live view" size="inside" onPress={props.onAgain} />
        <Key label="BACK" second="to the picture" size="inside" onPress={props.onBack} />
        <KeepKey {...props} />
      </div>
    </div>
  );
}

function AskKey({ shop, pair, busy, onAsk }: ViewKeysProps) {
  const { session } = shop;
  const unavailable = !pair.here || !pair.earlier ? 'no earlier picture' : undefined;
  const away = session?.online ? undefined : 'not signed in there';
  return (
    <Key
      label={'ASK THE\nSERVER'}
      second={busy ? 'it looks …' : 'lays it for you'}
      size="inside"
      unavailable={unavailable ?? away ?? (busy ? 'it looks …' : undefined)}
      onPress={onAsk}
    />
  );
}

/** The lamp until it is said; then the chain, and holding the picture alongside. */
function MoreKeys({ pair, alongside, onLight, onClosing, onEarlier }: ViewKeysProps) {
  const { here, earlier, chain, comparing } = pair;
  if (!here) return null;
  // While rivets are touched the pictures need the room; only the lamp is asked for.
  if (comparing.mode === 'rivets' && here.light !== null) return null;
  const hold = (
    <Key
      label="HOLD"
      second={`alongside\n${alongside.held.length} held`}
      size="inside"
      chosen={alongside.held.includes(here.record)}
      onPress={() => alongside.hold(here.record)}
    />
  );
  if (here.light === null)
    return (
      <>
        <LampKeys light={null} before={earlier?.light ?? null} onLight={onLight} />
        {hold}
      </>
    );
  const others = chain.filter((one) => one.record !== here.record);
  const at = others.findIndex((one) => one.record === earlier?.record);
  const next = others[(at + others.length - 1) % Math.max(others.length, 1)];
  return (
    <>
      <Key
        label={`LAMP FROM\n${here.light.toUpperCase()}`}
        second="change"
        size="inside"
        place="half"
        onPress={() => onLight(null)}
      />
      <Key
        label={'ANOTHER\nEARLIER'}
        second={`${others.length} of this view`}
        size="inside"
        unavailable={others.length > 1 && next ? undefined : 'no other'}
        onPress={() => next && onEarlier(next.record)}
      />
      <Key
        label={'LAST OF\nITS VIEW'}
        second={here.closed ? 'closed' : 'metal gone'}
        size="inside"
        chosen={here.closed}
        onPress={onClosing}
      />
      {hold}
    </>
  );
}

function KeepKey({ pair, busy, onKeep }: ViewKeysProps) {
  const { registration, said, earlier, fit, is_kept } = pair;
  const closed = earlier?.closed ? `closed: ${earlier.closed_why ?? 'metal gone'}` : undefined;
  const missed = registration.offer ? undefined : notKept(pair.touching.view);
  const nothing = fit === null ? 'three rivets first' : is_kept ? 'it is kept' : undefined;
  return (
    <Key
      label={registration.offer ? 'ACCEPT THE FIT' : 'KEEP THE FIT'}
      second={said?.head}
      kind="main"
      letters={28}
      size="inside"
      unavailable={closed ?? nothing ?? missed ?? (busy ? 'storing it' : undefined)}
      onPress={onKeep}
    />
  );
}

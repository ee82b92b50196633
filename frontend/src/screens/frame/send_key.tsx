import { useState } from 'preact/hooks';
import { announce, Key, type KeyProps } from '../../furniture';
import type { ExchangeState, Shop } from '../../services/shop';
import { useStatus } from './title';

/** Sends what waits and fetches what is new; says what came of it on its second line. */
export function SendKey({ shop, ...look }: { shop: Shop } & Pick<KeyProps, 'size' | 'place'>) {
  const line = useStatus(shop);
  const [busy, setBusy] = useState(false);
  const [said, setSaid] = useState<string | null>(null);
  const count = line?.waiting.entries ?? 0;
  const send = async () => {
    setBusy(true);
    const lock = await keptAwake();
    const state = await shop.exchange.sendNow();
    await lock?.release().catch(() => undefined);
    setBusy(false);
    const words = outcome(state);
    setSaid(words);
    announce(words);
  };
  return (
    <Key
      {...look}
      label={look.size === 'inside' ? 'SEND\nNOW' : 'SEND NOW'}
      second={said ?? (count === 0 ? 'nothing waiting' : `${count} waiting`)}
      unavailable={!shop.device ? 'not enrolled' : busy ? 'sending …' : undefined}
      onPress={() => void send()}
    />
  );
}

function outcome(state: ExchangeState): string {
  if (state.problem) return 'not sent: no server';
  return state.refused.length > 0 ? `${state.refused.length} refused` : 'all sent';
}

/** Keeps the screen awake while sending, where the browser can. */
async function keptAwake(): Promise<WakeLockSentinel | null> {
  try {
    return (await navigator.wakeLock?.request('screen')) ?? null;
  } catch {
    return null;
  }
}

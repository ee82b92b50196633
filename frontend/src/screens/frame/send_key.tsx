import { useState } from 'preact/hooks';
import { announce, Key, type KeyProps } from '../../furniture';
import type { ExchangeState, Shop, Waiting } from '../../services/shop';
import { awake } from './awake';
import { useStatus } from './title';

/** Sends what waits and fetches what is new; says what came of it on its second line. */
export function SendKey({ shop, ...look }: { shop: Shop } & Pick<KeyProps, 'size' | 'place'>) {
  const line = useStatus(shop);
  const [busy, setBusy] = useState(false);
  const [said, setSaid] = useState<Said | null>(null);
  const waits = line ? waitingWords(line.waiting) : undefined;
  const send = async () => {
    setBusy(true);
    const state = await awake(() => shop.exchange.sendNow());
    setBusy(false);
    const { waiting } = await shop.status.line();
    const words = outcome(state, waiting);
    setSaid({ words, while: waitingWords(waiting) });
    announce(words);
  };
  return (
    <Key
      {...look}
      label={look.size === 'inside' ? 'SEND\nNOW' : 'SEND NOW'}
      second={said && said.while === waits ? said.words : waits}
      unavailable={!shop.device ? 'not enrolled' : busy ? 'sending …' : undefined}
      onPress={() => void send()}
    />
  );
}

/** What came of sending: true only while the same things wait. */
interface Said {
  words: string;
  while: string;
}

function outcome(state: ExchangeState, waiting: Waiting): string {
  if (state.away) return 'not sent: no server';
  if (state.problem) return 'not sent';
  if (state.refused.length > 0) return `${state.refused.length} refused`;
  const words = waitingWords(waiting);
  return words === 'nothing waiting' ? 'all sent' : words;
}

function waitingWords({ entries, files }: Waiting): string {
  if (entries > 0) return `${entries} waiting`;
  return files > 0 ? `${files} file${files === 1 ? '' : 's'} waiting` : 'nothing waiting';
}

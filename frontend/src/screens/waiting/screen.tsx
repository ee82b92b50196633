import { useEffect } from 'preact/hooks';
import { ErrorFrame, Key, Sheet, TitleBlock } from '../../furniture';
import type { ScreenProps } from '../../services/shop';
import { contactWords, reachWords, sentAndWaiting, useExchange } from '../frame/contact';
import { SendKey } from '../frame/send_key';
import { useAirframeTitle, useStatus } from '../frame/title';
import { UnsentAge } from '../frame/unsent_age';
import { capital } from '../frame/words';
import { useLive } from '../live';
import { Notices } from './notices';
import { SentToday } from './sent_today';
import { useStickFile } from './stick_file';
import './screen.css';

/** Waiting on this tablet: what is here only, what the server refused, and Send now. */
export default function Waiting({ shop, go }: ScreenProps) {
  const title = useAirframeTitle(shop);
  const line = useStatus(shop);
  const state = useExchange(shop);
  const unsent = useLive(shop, () => shop.book.unsent(), []);
  const rows = useLive(shop, () => shop.book.defects(), []) ?? [];
  const stick = useStickFile(shop);
  // Whoever opens this sheet asks whether the server is there: it is asked, not remembered.
  const enrolled = shop.device !== null;
  useEffect(() => {
    if (enrolled) void shop.exchange.sendNow();
  }, [shop, enrolled]);
  const only_here = rows.filter((row) => unsent?.has(row.record));
  return (
    <Sheet
      layout="airframe"
      title={<TitleBlock variant="airframe" cells={title} />}
      keys={
        <div class="waiting-keys">
          <SendKey shop={shop} size="inside" />
          <Key
            label={'KEEP THIS\nSTORE'}
            size="inside"
            second={keptWords(line?.kept ?? null)}
            onPress={() => void shop.status.askToKeep()}
          />
          {stick.key}
          <Key
            label={'TAKE\nALONG'}
            size="inside"
            second="to the airframe"
            onPress={() => go('/take')}
          />
          <Key label="BACK" size="inside" onPress={() => history.back()} />
          <Key label="AIRFRAME" size="inside" onPress={() => go('/airframe')} />
        </div>
      }
    >
      <div class="waiting">
        <h1>Waiting on this tablet</h1>
        <p class="waiting-words">{line?.waiting_words ?? 'Counting …'}</p>
        <p class="waiting-reach">
          <strong>{capital(reachWords(state, shop))}</strong> · {contactWords(state, shop.now())}
        </p>
        {line && <p class="waiting-sent">{sentAndWaiting(state, line.waiting)}</p>}
        {state.problem && !state.shut && <ErrorFrame title="Not sent" text={state.problem} />}
        {state.shut && (
          <ErrorFrame title={state.shut.message} text={state.shut.hint}>
            <Key label="ENROL AGAIN" onPress={() => go('/enrol')} />
          </ErrorFrame>
        )}
        <UnsentAge shop={shop} />
        <Notices {...{ shop, state, rows }} />
        {stick.told}
        <ul>
          {only_here.map((row) => (
            <li key={row.record}>
              <strong>{row.number}</strong> {row.place_words} · 1 copy, this tablet
            </li>
          ))}
        </ul>
        <SentToday shop={shop} rows={rows} />
      </div>
    </Sheet>
  );
}

function keptWords(kept: boolean | null): string {
  if (kept === null) return 'ask the browser';
  return kept ? 'the browser keeps it' : 'the browser may clear it';
}

import { ErrorFrame } from '../../furniture';
import type { Shop, StatusLine } from '../../services/shop';
import { SendKey } from './send_key';
import { useStatus } from './title';
import './unsent_age.css';

const DAY_MS = 86_400_000;

/** From two days on what waits here is warned of; from five days on it is insisted. */
export function UnsentAge({ shop }: { shop: Shop }) {
  const line = useStatus(shop);
  const days = daysOf(line);
  if (!line || days < 2) return null;
  const what = `${line.waiting_words}, the oldest for ${days} days`;
  if (line.waiting_weight !== 'error')
    return <p class="unsent-age">{`${what}: it is on this tablet only. Send it before long.`}</p>;
  return (
    <ErrorFrame
      title={what}
      text="It is on this tablet only: if the tablet is lost, so is it. Bring it in reach of the server today."
    >
      <SendKey shop={shop} />
    </ErrorFrame>
  );
}

function daysOf(line: StatusLine | undefined): number {
  return Math.floor((line?.waiting.oldest_ms ?? 0) / DAY_MS);
}

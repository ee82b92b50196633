import { useEffect, useState } from 'preact/hooks';
import { Key } from '../../furniture';
import type { Shop } from '../../services/shop';
import './picture_here.css';

/** Why a photograph is not shown: the server is away, or lacks the bytes as yet; or it is here in a
format that this browser does not show, until the server hands out its copy. */
export type Lack = 'away' | 'not sent' | 'not shown';

export interface PictureHere {
  /** Address for an image, given back when the screen is left; null: not here, or on its way. */
  url: string | null;
  lack: Lack | null;
  again: () => void;
}

/** The bytes of a photograph, asked for again each time the server answers. */
export function usePicture(
  shop: Shop,
  sha256: string | undefined,
  size?: 320 | 1000 | 1600,
): PictureHere {
  const [url, setUrl] = useState<string | null>(null);
  const [lack, setLack] = useState<Lack | null>(null);
  const [tries, setTries] = useState(0);
  useEffect(() => {
    setUrl(null);
    setLack(null);
  }, [shop, sha256, size]);
  useEffect(() => {
    if (!sha256) return;
    let given: string | null = null;
    let left = false;
    shop.files.photographUrl(sha256, size).then(
      (found) => {
        if (left) return shop.files.release(found);
        given = found;
        setUrl(found);
        setLack(null);
      },
      (error) => left || setLack(lackOf(error)),
    );
    return () => {
      left = true;
      if (given) shop.files.release(given);
    };
  }, [shop, sha256, size, tries]);
  const ask = () => setTries((before) => before + 1);
  useEffect(() => (lack ? afterContact(shop, ask) : undefined), [shop, lack, tries]);
  // What lacks here may come, or wait to be sent, with a round: that is not waited for.
  const again = () => {
    if (shop.device) void shop.exchange.sendNow();
    ask();
  };
  return { url, lack, again };
}

function lackOf(error: unknown): Lack {
  const code = (error as { code?: unknown } | null)?.code;
  if (code === 'not_shown') return 'not shown';
  return code === 'away' ? 'away' : 'not sent';
}

/** Acts once when the server has answered again; returns the way to stop. */
export function afterContact(shop: Shop, act: () => void): () => void {
  const before = shop.exchange.state.last_contact_ms;
  const stop = shop.subscribe(() => {
    const { last_contact_ms, running } = shop.exchange.state;
    if (running || last_contact_ms === before) return;
    stop();
    act();
  });
  return stop;
}

/** Says that a photograph is not here, and when it comes. */
export function NotHere(props: { shop: Shop; picture: PictureHere; what: string }) {
  const { shop, picture, what } = props;
  const place = shop.device?.letter ? 'on this tablet' : 'in this browser';
  return (
    <div class="not-here" role="status">
      <p class="not-here-title">
        {picture.lack === 'not shown' ? `${what}: stored ${place}` : `${what}: not ${place}`}
      </p>
      <p>{LACK_WORDS[picture.lack ?? 'away']}</p>
      <Key label="TRY AGAIN" onPress={picture.again} />
    </div>
  );
}

const LACK_WORDS: Record<Lack, string> = {
  away: 'It comes with the next exchange with the server, and is then shown by itself.',
  'not shown':
    'It is a HEIC, which this browser can’t show. It is shown by itself once the server has it.',
  'not sent': 'The server does not have it yet: it comes once the tablet that took it has sent it.',
};

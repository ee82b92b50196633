import { useState } from 'preact/hooks';
import { Empty, Loading } from '../../furniture';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { liveAddress } from '../frame/camera_choice';
import { useTrouble } from '../frame/trouble';
import { useAlongside } from './alongside';
import { AlongsideStrip } from './alongside_strip';
import { CloseChain } from './close_chain';
import { Compare, ShareSlider } from './compare';
import { FitPanel } from './fit_panel';
import { type Pair, usePair } from './pair';
import { Rivets } from './rivets';
import { ViewKeys } from './view_keys';
import { dayOf } from './view_pictures';
import { ViewSheet } from './view_sheet';

type Props = ScreenProps & { row: DefectRow; photograph: string };

/** A photograph and an earlier one: three rivets in both, then compared. */
export function OneView({ shop, params, go, row, photograph }: Props) {
  const pair = usePair(shop, photograph, params.with);
  const alongside = useAlongside(shop);
  const { trouble, run, busy } = useTrouble();
  const [closing, setClosing] = useState(false);
  const number = row.number ?? '';
  const back = `/airframe/${number.replace('/', '')}/photograph/${photograph}`;
  const beside = (other: string) => {
    pair.comparing.setMode('beside');
    go(`${back}/same-view?with=${other}`, 'replace');
  };
  const say = (set: Parameters<typeof shop.capture.setFields>[2], why?: string) =>
    run(async () => {
      if (shop.session) await shop.capture.setFields(shop.session, photograph, set, why);
    });
  const again = liveAddress(
    { number, role: 'close', mirrored: false },
    pair.earlier?.record ?? photograph,
  );
  return (
    <ViewSheet
      {...{ shop, row, trouble }}
      head={headOf(pair)}
      under={apartOf(pair)}
      keys={(onTouchOff) => (
        <ViewKeys
          {...{ shop, pair, alongside, busy, onTouchOff }}
          onAsk={() => void run(pair.registration.ask)}
          onKeep={() => void run(() => pair.keep(pair.fit))}
          onLight={(light) => void say({ light })}
          onClosing={() => setClosing(!closing)}
          onEarlier={beside}
          onAgain={() => go(again)}
          onBack={() => go(back)}
        />
      )}
    >
      {closing && pair.here && (
        <CloseChain
          picture={pair.here}
          onClose={(closed, why) => {
            setClosing(false);
            void say({ chain_closed: closed }, why);
          }}
          onLeave={() => setClosing(false)}
        />
      )}
      <Compared {...{ shop, pair }} />
      {pair.comparing.mode !== 'rivets' && (
        <AlongsideStrip
          {...{ shop, alongside }}
          actions={[{ label: 'SHOW BESIDE', act: beside }]}
        />
      )}
    </ViewSheet>
  );
}

/** Both pictures, and how they lie on each other. */
function Compared({ pair, shop }: { pair: Pair } & Pick<ScreenProps, 'shop'>) {
  return (
    <>
      <div class="one-view-room">
        <Pictures {...{ pair, shop }} />
      </div>
      {pair.comparing.mode === 'slide' && <ShareSlider comparing={pair.comparing} />}
      <FitPanel pair={pair} />
    </>
  );
}

function Pictures({ pair, shop }: { pair: Pair } & Pick<ScreenProps, 'shop'>) {
  const { here, earlier, touching, comparing, to_other } = pair;
  if (here === undefined || earlier === undefined) return <Loading what="Both pictures" />;
  if (here === null) return <Empty looked_at title="This photograph is not here" />;
  if (earlier === null)
    return (
      <Empty
        looked_at
        title="There is no earlier picture of this view here"
        cells="Hold one alongside, or take this view again another day."
      />
    );
  return comparing.mode === 'rivets' ? (
    <Rivets {...{ shop, earlier, here, touching }} />
  ) : (
    <Compare {...{ shop, earlier, here, to_other, comparing }} />
  );
}

function headOf({ here, earlier }: Pair): string {
  if (!here || !earlier) return 'Same view';
  const what = `${earlier.role} picture of ${dayOf(earlier) || 'a day not known'}`;
  const other = earlier.number === here.number ? '' : `${earlier.number}, `;
  return here.repeat_of === earlier.record
    ? `Same view as ${other}${what}`
    : `Beside ${other}${what}`;
}

/** Which of how many pictures of the view, and whether the chain is closed. */
function apartOf({ here, chain }: Pair): string {
  if (!here || chain.length < 2) return '';
  const at = chain.findIndex((one) => one.record === here.record);
  const closed = chain.find((one) => one.closed);
  const end = closed ? ` · closed ${dayOf(closed)}: ${closed.closed_why ?? 'no reason'}` : '';
  return `picture ${at + 1} of ${chain.length} of this view${end}`;
}

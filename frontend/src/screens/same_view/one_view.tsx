import { useState } from 'preact/hooks';
import { Empty, Loading, SAFETY_SHORT, Sheet, TitleBlock, TouchOff } from '../../furniture';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { useLooking } from '../airframe/looking';
import { liveAddress } from '../frame/camera_choice';
import { RecordMark } from '../frame/record_mark';
import { RecordScale } from '../frame/record_scale';
import { useAirframeTitle } from '../frame/title';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { useAlongside } from './alongside';
import { AlongsideStrip } from './alongside_strip';
import { CloseChain } from './close_chain';
import { Compare, ShareSlider } from './compare';
import { FitPanel } from './fit_panel';
import { type Pair, usePair } from './pair';
import { Rivets } from './rivets';
import { ViewKeys } from './view_keys';
import { dayOf } from './view_pictures';

type Props = ScreenProps & { row: DefectRow; photograph: string };

/** A photograph and an earlier one: three rivets in both, then compared. */
export function OneView({ shop, params, go, row, photograph }: Props) {
  const pair = usePair(shop, photograph, params.with);
  const alongside = useAlongside(shop);
  const { trouble, run, busy } = useTrouble();
  const [looking] = useLooking(shop);
  const title = useAirframeTitle(shop);
  const [touchOff, setTouchOff] = useState(false);
  const [closing, setClosing] = useState(false);
  const { here, earlier } = pair;
  const record = `/airframe/${(row.number ?? '').replace('/', '')}`;
  const back = `${record}/photograph/${photograph}`;
  const beside = (other: string) => {
    pair.comparing.setMode('beside');
    go(`${back}/same-view?with=${other}`, 'replace');
  };
  const say = (set: Parameters<typeof shop.capture.setFields>[2], why?: string) =>
    run(async () => {
      if (shop.session) await shop.capture.setFields(shop.session, photograph, set, why);
    });
  return (
    <>
      <Sheet
        layout="airframe"
        hand={looking.hand}
        top={<RecordScale shop={shop} row={row} />}
        title={<TitleBlock variant="airframe" cells={title} />}
        keys={
          <ViewKeys
            {...{ shop, pair, alongside, busy }}
            onAsk={() => void run(pair.registration.ask)}
            onKeep={() => void run(() => pair.keep(pair.fit))}
            onLight={(light) => void say({ light })}
            onClosing={() => setClosing(!closing)}
            onEarlier={beside}
            onAgain={() =>
              go(
                liveAddress(
                  { number: row.number ?? '', role: 'close', mirrored: false },
                  earlier?.record ?? photograph,
                ),
              )
            }
            onBack={() => go(back)}
            onTouchOff={() => setTouchOff(true)}
          />
        }
      >
        <div class="one-view">
          <header class="live-head">
            <RecordMark row={row} plain size={56} />
            <h1>{row.number}</h1>
            <p>
              <strong>{headOf(pair)}</strong>
              <span>{apartOf(pair)}</span>
              <span class="picture-safety">{SAFETY_SHORT}</span>
            </p>
          </header>
          <TroubleNote trouble={trouble} />
          {closing && here && (
            <CloseChain
              picture={here}
              onClose={(closed, why) => {
                setClosing(false);
                void say({ chain_closed: closed }, why);
              }}
              onLeave={() => setClosing(false)}
            />
          )}
          <div class="one-view-room">
            <Pictures pair={pair} shop={shop} />
          </div>
          {pair.comparing.mode === 'slide' && <ShareSlider comparing={pair.comparing} />}
          <FitPanel pair={pair} />
          {pair.comparing.mode !== 'rivets' && (
            <AlongsideStrip
              shop={shop}
              alongside={alongside}
              actions={[{ label: 'SHOW BESIDE', act: beside }]}
            />
          )}
        </div>
      </Sheet>
      {touchOff && <TouchOff onRelease={() => setTouchOff(false)} />}
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

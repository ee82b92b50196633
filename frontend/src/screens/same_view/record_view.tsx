import { useState } from 'preact/hooks';
import { fitWords } from '../../domain/same_view_words';
import { DeskKey, KeyRow } from '../../furniture';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { TroubleNote, useTrouble } from '../frame/trouble';
import type { Picture } from '../photograph/pictures';
import { useAlongside } from './alongside';
import { AlongsideStrip } from './alongside_strip';
import { CloseChain } from './close_chain';
import { Compare, ShareSlider } from './compare';
import type { Mode } from './comparing';
import { FitPanel } from './fit_panel';
import { type Pair, usePair } from './pair';
import { apartWords, dayOf, type ViewPicture } from './view_pictures';
import '../frame/picture_keys.css';
import './screen.css';
import './record_view.css';

export interface RecordViewProps extends Pick<ScreenProps, 'shop' | 'go'> {
  row: DefectRow;
  photographs: readonly Picture[];
}

/** In the defect book: the pictures of one view in order, two of them compared. */
export function RecordView({ shop, go, row, photographs }: RecordViewProps) {
  const last = photographs.at(-1)?.record ?? '';
  const [shown, setShown] = useState<string | null>(null);
  const [asked, setAsked] = useState<string | undefined>(undefined);
  const [closing, setClosing] = useState(false);
  const photograph = shown ?? last;
  const pair = usePair(shop, photograph, asked);
  const alongside = useAlongside(shop);
  const { trouble, run, busy } = useTrouble();
  const { here, earlier, comparing, to_other } = pair;
  const show = (one: string) => {
    setShown(one);
    setAsked(undefined);
  };
  const close = (closed: boolean, why: string) =>
    run(async () => {
      setClosing(false);
      if (!shop.session) return;
      await shop.capture.setFields(shop.session, photograph, { chain_closed: closed }, why);
    });
  const address = `/airframe/${(row.number ?? '').replace('/', '')}/photograph/${photograph}`;
  return (
    <div class="record-view">
      <TroubleNote trouble={trouble} />
      <Chain pair={pair} photographs={photographs} shown={photograph} onShow={show} />
      {here && earlier ? (
        <>
          <div class="record-view-room">
            <Compare {...{ shop, earlier, here, to_other }} comparing={asDesk(comparing)} />
          </div>
          {comparing.mode === 'slide' && <ShareSlider comparing={comparing} />}
          <FitPanel pair={{ ...pair, comparing: asDesk(comparing) }} />
        </>
      ) : (
        <p class="no-view">
          {earlier === undefined
            ? 'Pictures are on their way …'
            : 'No earlier picture of this view.'}
        </p>
      )}
      <KeyRow apart="desk" label="How the two are compared">
        <LookKeys pair={pair} />
        <DeskKey label="THREE RIVETS" onPress={() => go(`${address}/same-view`)} />
        <FitKeys pair={pair} online={shop.session?.online === true} busy={busy} run={run} />
        <DeskKey
          label="LAST OF ITS VIEW"
          chosen={here?.closed ?? false}
          onPress={() => setClosing(!closing)}
        />
        <DeskKey
          label="HOLD ALONGSIDE"
          chosen={alongside.held.includes(photograph)}
          onPress={() => alongside.hold(photograph)}
        />
      </KeyRow>
      {closing && here && (
        <CloseChain
          picture={here}
          onClose={(closed, why) => void close(closed, why)}
          onLeave={() => setClosing(false)}
        />
      )}
      <AlongsideStrip
        shop={shop}
        alongside={alongside}
        actions={[
          {
            label: 'SHOW BESIDE',
            act: (one) => {
              setAsked(one);
              comparing.setMode('beside');
            },
          },
        ]}
      />
    </div>
  );
}

/** Rivets are touched on a screen of their own; here the two are only looked at. */
function asDesk(comparing: Pair['comparing']): Pair['comparing'] {
  return comparing.mode === 'rivets' ? { ...comparing, mode: 'beside' } : comparing;
}

const MODES: readonly [Mode, string][] = [
  ['blink', 'BLINK'],
  ['slide', 'SLIDER'],
  ['beside', 'BESIDE'],
];

function LookKeys({ pair }: { pair: Pair }) {
  const comparing = asDesk(pair.comparing);
  return (
    <>
      {MODES.map(([mode, label]) => (
        <DeskKey
          key={mode}
          label={label}
          chosen={comparing.mode === mode}
          onPress={() => pair.comparing.setMode(mode)}
        />
      ))}
      {comparing.mode === 'blink' && <DeskKey label="SWAP" onPress={comparing.swap} />}
      {comparing.mode === 'blink' && (
        <DeskKey
          label="BY ITSELF"
          chosen={comparing.by_itself}
          unavailable={comparing.still}
          onPress={comparing.turn}
        />
      )}
    </>
  );
}

function FitKeys(props: {
  pair: Pair;
  online: boolean;
  busy: boolean;
  run: (work: () => Promise<void>) => Promise<void>;
}) {
  const { pair, online, busy, run } = props;
  const { offer, ask, leave } = pair.registration;
  const closed = pair.earlier?.closed ? 'its chain is closed' : undefined;
  if (offer)
    return (
      <>
        <DeskKey
          label="ACCEPT THE FIT"
          kind="main"
          unavailable={closed}
          onPress={() => void run(() => pair.keep(offer.fit))}
        />
        <DeskKey label="LEAVE IT" onPress={leave} />
      </>
    );
  const not_now = online ? (busy ? 'it looks …' : undefined) : 'not signed in there';
  return (
    <DeskKey
      label="ASK THE SERVER"
      unavailable={pair.earlier ? not_now : 'no earlier picture'}
      onPress={() => void run(ask)}
    />
  );
}

/** The pictures of the view, the oldest first; where there is one only, those of the record. */
function Chain(props: {
  pair: Pair;
  photographs: readonly Picture[];
  shown: string;
  onShow: (photograph: string) => void;
}) {
  const { pair, photographs, shown, onShow } = props;
  const { chain } = pair;
  const others = photographs.filter((one) => !chain.some(({ record }) => record === one.record));
  return (
    <nav class="record-chain" aria-label="Pictures of this view">
      {chain.map((one, at) => (
        <DeskKey
          key={one.record}
          label={`${dayOf(one) || 'no day'} · ${one.role}`}
          second={linkWords(one, chain[at - 1])}
          chosen={one.record === shown}
          onPress={() => onShow(one.record)}
        />
      ))}
      {others.map((one) => (
        <DeskKey
          key={one.record}
          label={`${dayOf(one) || 'no day'} · ${one.role}`}
          second="another view"
          onPress={() => onShow(one.record)}
        />
      ))}
    </nav>
  );
}

function linkWords(one: ViewPicture, before: ViewPicture | undefined): string {
  const apart = before ? apartWords(dayOf(before), dayOf(one)) : 'the first of its view';
  const closed = one.closed ? `last: ${one.closed_why ?? 'metal gone'}` : '';
  return [apart, fitWords(one.fit), closed].filter(Boolean).join('\n');
}

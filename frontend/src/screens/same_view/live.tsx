import { useState } from 'preact/hooks';
import {
  ErrorFrame,
  Key,
  Loading,
  SAFETY_SHORT,
  Sheet,
  TitleBlock,
  TouchOff,
} from '../../furniture';
import type { DefectRow, Json, PhotographRole, ScreenProps } from '../../services/shop';
import { useLooking } from '../airframe/looking';
import { CameraInput, useCamera } from '../frame/camera';
import { RecordMark } from '../frame/record_mark';
import { RecordScale } from '../frame/record_scale';
import { useAirframeTitle } from '../frame/title';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { unbroken } from '../frame/unbroken';
import { useAlongside } from './alongside';
import { AlongsideStrip } from './alongside_strip';
import { Ghost, type Strength } from './ghost';
import { useGhosts } from './ghosts';
import { LiveKeys } from './live_keys';
import { grabbed, useStream } from './stream';
import { dayOf } from './view_pictures';

type Props = ScreenProps & { row: DefectRow };

const ROLES = [
  'wide',
  'close',
  'scale',
  'after cleaning',
  'before closing',
  'closing',
  'after work',
];

/** What the camera sees, with an earlier picture of the same view laid over it. */
export function Live({ shop, params, go, row }: Props) {
  const stream = useStream();
  const alongside = useAlongside(shop);
  const { trouble, run, busy } = useTrouble();
  const [looking] = useLooking(shop);
  const title = useAirframeTitle(shop);
  const [touchOff, setTouchOff] = useState(false);
  const [chosen, setChosen] = useState<string | null>(params.of ?? null);
  const [strength, setStrength] = useState<Strength>(40);
  const [light, setLight] = useState<string | null>(null);
  const [mirrored, setMirrored] = useState(params.mirrored === 'yes');
  const ghosts = useGhosts(shop, row.record, alongside.held, params.of);
  const ghost = ghosts?.find((one) => one.record === chosen) ?? ghosts?.at(-1) ?? null;
  const role = ROLES.includes(params.role ?? '') ? params.role : (ghost?.role ?? 'close');
  const number = row.number ?? '';
  const address = `/airframe/${number.replace('/', '')}`;
  const more: Record<string, Json> = {
    ...(ghost && strength !== 'none' ? { repeat_of: ghost.record } : {}),
    ...(light ? { light } : {}),
  };
  const taken = (photograph: string) =>
    go(`${address}/photograph/${photograph}${more.repeat_of ? '/same-view' : ''}`, 'replace');
  const camera = useCamera(
    shop,
    (one) => taken(one.photograph),
    (error) => void run(() => Promise.reject(error)),
  );
  const shutter = () =>
    run(async () => {
      const { session } = shop;
      if (!session || !stream.video.current) return;
      const bytes = await grabbed(stream.video.current);
      const { capture } = shop;
      const as = role as PhotographRole;
      const stored = await capture.addPhotograph(
        ...([session, row.record, bytes, as, 'live', mirrored, more] as const),
      );
      taken(stored.record);
      await capture.checked(stored.record);
    });
  const byFile = () =>
    camera.open({ record: row.record, number, role: role as PhotographRole, mirrored, more });
  return (
    <>
      <CameraInput camera={camera} />
      <Sheet
        layout="airframe"
        hand={looking.hand}
        top={<RecordScale shop={shop} row={row} />}
        title={<TitleBlock variant="airframe" cells={title} />}
        keys={
          <LiveKeys
            {...{ strength, light, mirrored, ghost, busy }}
            others={(ghosts?.length ?? 0) - 1}
            ready={stream.size !== null && !stream.refused}
            onStrength={setStrength}
            onLight={setLight}
            onMirror={() => setMirrored(!mirrored)}
            onOther={() => setChosen(next(ghosts?.map((one) => one.record) ?? [], ghost?.record))}
            onFile={byFile}
            onBack={() => go(address, 'replace')}
            onShutter={() => void shutter()}
            onTouchOff={() => setTouchOff(true)}
          />
        }
      >
        <div class="live-view">
          <header class="live-head">
            <RecordMark row={row} plain size={56} />
            <h1>{number}</h1>
            <p>
              <strong>{`${role} picture, live view`}</strong>
              <span>{unbroken(row.place_words ?? '')}</span>
              <span class="picture-safety">{SAFETY_SHORT}</span>
            </p>
          </header>
          <TroubleNote trouble={trouble} />
          {stream.refused && (
            <ErrorFrame title="No live view" text={`${stream.refused} ${STORED}`}>
              <Key label={'SYSTEM’S\nCAMERA'} kind="main" onPress={byFile} />
              <Key label="TRY AGAIN" onPress={stream.again} />
            </ErrorFrame>
          )}
          <div class={stream.refused ? 'live-room spoken' : 'live-room'}>
            <div class="live-stage">
              <video
                ref={stream.video}
                class={mirrored ? 'mirrored' : ''}
                muted
                playsInline
                aria-label="What the camera sees"
              />
              {!stream.size && !stream.refused && <Loading what="The camera" />}
              {ghost && <Ghost shop={shop} picture={ghost} strength={strength} />}
            </div>
            {ghost && <p class="live-over">{overWords(ghost, strength, number)}</p>}
          </div>
          <AlongsideStrip
            shop={shop}
            alongside={alongside}
            actions={[{ label: 'OVER THE VIEW', act: setChosen }]}
          />
        </div>
      </Sheet>
      {touchOff && <TouchOff onRelease={() => setTouchOff(false)} />}
    </>
  );
}

const STORED = 'The record and its place are stored. Take the picture with the system’s camera.';

function next(all: readonly string[], now: string | undefined): string | null {
  const at = now === undefined ? -1 : all.indexOf(now);
  return all[(at + all.length - 1) % Math.max(all.length, 1)] ?? null;
}

function overWords(
  ghost: NonNullable<ReturnType<typeof useGhosts>>[number],
  strength: Strength,
  number: string,
): string {
  const what = ghost.number === number ? `${ghost.role} picture` : `${ghost.number}, ${ghost.role}`;
  const how = { none: 'not shown', outline: 'as an outline' }[String(strength)] ?? `${strength} %`;
  const lamp = ghost.light ? `, lamp from ${ghost.light}` : '';
  return `Over it: ${what} of ${dayOf(ghost) || 'a day not known'}${lamp}, ${how}`;
}

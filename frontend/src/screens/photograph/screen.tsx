import { useState } from 'preact/hooks';
import { DetailPicture, Key, Loading, Sheet, TitleBlock, TouchOff, WaxRing } from '../../furniture';
import type { ScreenProps } from '../../services/shop';
import { useCamera } from '../airframe/camera';
import { useAirframeTitle } from '../frame/title';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { useLive } from '../live';
import { OneMark, seedOf, useMarks } from './marks_on';
import { usePhotograph, usePhotographs } from './pictures';
import { nudged, type Ring, resized, ringAt, ringShape } from './ring';
import './screen.css';

/** The picture just taken: a wax-pencil ring by touch, then by keys of one step. */
export default function Photograph({ shop, params, go }: ScreenProps) {
  const number = params.number ?? '';
  const row = useLive(shop, async () => (await shop.book.numbered(number))[0] ?? null, [number]);
  const photographs = usePhotographs(shop, row?.record);
  const picture = photographs?.find((one) => one.record === params.photograph);
  const url = usePhotograph(shop, picture?.sha256);
  const marks = useMarks(shop, picture?.record);
  const [placed, setRing] = useState<Ring | null>(null);
  const [touchOff, setTouchOff] = useState(false);
  const { trouble, busy, run } = useTrouble();
  const title = useAirframeTitle(shop);
  const camera = useCamera(
    shop,
    (taken) => go(`/airframe/${number}/photograph/${taken.photograph}`, 'replace'),
    (error) => run(() => Promise.reject(error)),
  );
  if (!row || !picture)
    return (
      <Sheet layout="airframe" title={<TitleBlock variant="airframe" cells={title} />}>
        <Loading what={`The photograph of ${number}`} />
      </Sheet>
    );
  const size = { width_px: picture.width_px, height_px: picture.height_px };
  // The first ring stands in the middle already: a touch or the keys bring it to the defect.
  const middle = { x: size.width_px / 2, y: size.height_px / 2 };
  const ring = placed ?? (marks?.length === 0 ? ringAt(middle, size) : null);
  const step = Math.max(1, Math.round(size.width_px / 160));
  const move = (dx: number, dy: number) =>
    ring && setRing(nudged(ring, dx * step, dy * step, size));
  const keep = () =>
    run(async () => {
      if (!shop.session || !ring) return;
      await shop.capture.addMark(shop.session, picture.record, ringShape(ring));
      setRing(null);
    });
  const no_ring = ring ? undefined : 'touch it for one more';
  return (
    <>
      <input
        ref={camera.input}
        class="spoken"
        type="file"
        accept="image/*"
        capture="environment"
        aria-label="Photograph"
        tabIndex={-1}
        onChange={camera.onFile}
      />
      <Sheet
        layout="airframe"
        title={<TitleBlock variant="airframe" cells={title} />}
        keys={
          <div class="picture-keys">
            <Key
              label="LEFT"
              second={`${step} px`}
              size="inside"
              unavailable={no_ring}
              onPress={() => move(-1, 0)}
            />
            <Key
              label="UP"
              second={`${step} px`}
              size="inside"
              unavailable={no_ring}
              onPress={() => move(0, -1)}
            />
            <Key
              label="DOWN"
              second={`${step} px`}
              size="inside"
              unavailable={no_ring}
              onPress={() => move(0, 1)}
            />
            <Key
              label="RIGHT"
              second={`${step} px`}
              size="inside"
              unavailable={no_ring}
              onPress={() => move(1, 0)}
            />
            <Key
              label="LARGER"
              second="ring"
              size="inside"
              unavailable={no_ring}
              onPress={() => ring && setRing(resized(ring, 1.15, size))}
            />
            <Key
              label="SMALLER"
              second="ring"
              size="inside"
              unavailable={no_ring}
              onPress={() => ring && setRing(resized(ring, 1 / 1.15, size))}
            />
            <Key
              label={'ONE\nMORE'}
              second="close"
              size="inside"
              onPress={() =>
                camera.open({
                  record: row.record,
                  number: row.number ?? '',
                  role: 'close',
                  mirrored: false,
                })
              }
            />
            <Key
              label={'KEEP\nTHE RING'}
              size="inside"
              chosen={false}
              unavailable={no_ring ?? (busy ? 'storing …' : undefined)}
              onPress={keep}
            />
            <Key
              label={'TOUCH\nOFF'}
              second="ignore all"
              size="inside"
              place="p-touch"
              onPress={() => setTouchOff(true)}
            />
            <Key
              label="UNDO"
              kind="undo"
              size="inside"
              place="p-undo"
              second="last ring"
              unavailable={placed || marks?.length ? undefined : 'no ring kept yet'}
              onPress={() =>
                placed
                  ? setRing(null)
                  : run(async () => {
                      const last = marks?.at(-1);
                      if (shop.session && last)
                        await shop.capture.strikeMark(shop.session, last.record);
                    })
              }
            />
            <Key
              label="MEASURE ►"
              second={marks?.length ? 'kind and figures' : 'without a ring'}
              kind="main"
              letters={28}
              place="p-next"
              onPress={() => go(`/airframe/${number}`)}
            />
          </div>
        }
      >
        <div class="picture-view">
          <header class="picture-head">
            <h1>{row.number}</h1>
            <p>
              <strong>{picture.role} picture, stored on this tablet</strong>
              <span>{row.place_words}</span>
            </p>
          </header>
          <TroubleNote trouble={trouble} />
          {url ? (
            <DetailPicture
              src={url}
              alt={`${row.number}, ${picture.role}`}
              width_px={size.width_px}
              height_px={size.height_px}
              mirrored={picture.mirrored}
              eager
              onPick={(point) => setRing(ring ? { ...ring, ...point } : ringAt(point, size))}
            >
              {marks?.map((mark) => (
                <OneMark key={mark.record} mark={mark} />
              ))}
              {ring && (
                <WaxRing
                  seed={seedOf(picture.record)}
                  points={ringShape(ring).points.map(([x, y]) => ({ x: x / 10, y: y / 10 }))}
                />
              )}
            </DetailPicture>
          ) : (
            <Loading what="The photograph" />
          )}
          <p class="picture-hint">
            Touch the middle of the defect: the ring goes there. KEEP THE RING stores it.
          </p>
        </div>
      </Sheet>
      {touchOff && <TouchOff onRelease={() => setTouchOff(false)} />}
    </>
  );
}

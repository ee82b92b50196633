import { useEffect, useState } from 'preact/hooks';
import { Empty, Key, Loading, Sheet, TitleBlock, TouchOff } from '../../furniture';
import type { DefectRow, Json, ScreenProps } from '../../services/shop';
import { useLooking } from '../airframe/looking';
import { useUndo } from '../airframe/undoing';
import { CameraInput, useCamera } from '../frame/camera';
import { usePicture } from '../frame/picture_here';
import { RecordScale } from '../frame/record_scale';
import { useAirframeTitle } from '../frame/title';
import { type Trouble, TroubleNote, useTrouble } from '../frame/trouble';
import { troubleOf } from '../frame/words';
import { useLive } from '../live';
import { useMarking } from './marking';
import { useMarks } from './marks_on';
import { PictureKeys } from './picture_keys';
import { MarkedPicture, PictureHead, PictureMore } from './picture_parts';
import { type Picture, usePhotographs } from './pictures';
import '../frame/picture_keys.css';
import './screen.css';

/** The picture just taken: wax-pencil marks by touch, then by keys of one step. */
export default function Photograph(props: ScreenProps) {
  const { shop, params } = props;
  const number = params.number ?? '';
  const row = useLive(shop, async () => (await shop.book.numbered(number))[0] ?? null, [number]);
  const photographs = usePhotographs(shop, row?.record);
  const picture = photographs?.find((one) => one.record === params.photograph);
  const title = useAirframeTitle(shop);
  const damaged = useDamaged(shop, params.photograph ?? '');
  if (!row || !picture)
    return (
      <Sheet layout="airframe" title={<TitleBlock variant="airframe" cells={title} />}>
        {row && photographs ? (
          <Gone number={number} go={props.go} damaged={damaged} />
        ) : (
          <div class="picture-view">
            <header class="picture-head">
              <h1>{number.replace(/(?=\d{4}$)/, '/')}</h1>
            </header>
            <Loading what={`The photograph of ${number}`} />
          </div>
        )}
      </Sheet>
    );
  return <OnePicture key={picture.record} {...props} row={row} picture={picture} />;
}

/** Why the picture was taken off again, where it did not read back as it was stored. */
function useDamaged(shop: ScreenProps['shop'], photograph: string): Trouble | null {
  const [damaged, setDamaged] = useState<Trouble | null>(null);
  useEffect(() => {
    shop.capture.checked(photograph).catch((error) => setDamaged(troubleOf(error)));
  }, [shop, photograph]);
  return damaged;
}

/** The picture of this address was undone, or never came: what to do instead. */
function Gone(props: Pick<ScreenProps, 'go'> & { number: string; damaged: Trouble | null }) {
  const { number, go, damaged } = props;
  return (
    <>
      <TroubleNote trouble={damaged} />
      <Empty
        looked_at
        title={damaged ? 'This photograph is not stored' : 'This photograph was taken back'}
        cells={`Record ${number} is still here.`}
      >
        <Key label={`TO ${number}`} kind="main" onPress={() => go(`/airframe/${number}`)} />
      </Empty>
    </>
  );
}

type Props = ScreenProps & { row: DefectRow; picture: Picture };

function OnePicture({ shop, go, row, picture }: Props) {
  const here = usePicture(shop, picture.sha256);
  const marks = useMarks(shop, picture.record);
  const marking = useMarking(shop, picture, marks);
  const [touchOff, setTouchOff] = useState(false);
  const { trouble, run } = useTrouble();
  const [looking] = useLooking(shop);
  const undoing = useUndo(shop, [row], { record: row.record });
  const title = useAirframeTitle(shop);
  const number = row.number ?? '';
  const address = `/airframe/${number.replace('/', '')}`;
  const camera = useCamera(
    shop,
    (taken) => go(`${address}/photograph/${taken.photograph}`, 'replace'),
    (error) => run(() => Promise.reject(error)),
  );
  const say = (set: Record<string, Json>) =>
    run(async () => {
      if (shop.session) await shop.capture.setFields(shop.session, picture.record, set);
    });
  const { kind, placed, touched, size } = marking;
  return (
    <>
      <CameraInput camera={camera} />
      <Sheet
        layout="airframe"
        hand={looking.hand}
        top={<RecordScale shop={shop} row={row} />}
        title={<TitleBlock variant="airframe" cells={title} />}
        keys={
          <PictureKeys
            {...{ kind, placed, size }}
            kept={marks?.length ?? 0}
            touched={touched !== null}
            role={picture.role}
            mirrored={picture.mirrored}
            undo={undoing}
            onKind={marking.pick}
            onPlaced={marking.place}
            onKeep={() => run(marking.keep)}
            onRole={(role) => say({ role })}
            onMirror={() => say({ mirrored: !picture.mirrored })}
            onMore={() =>
              camera.open({ record: row.record, number, role: 'close', mirrored: false })
            }
            onUndo={() => (touched ? marking.place(null) : void run(undoing.press))}
            onNext={() =>
              run(async () => {
                await marking.keepTouched();
                go(address);
              })
            }
            onTouchOff={() => setTouchOff(true)}
          />
        }
      >
        <div class="picture-view">
          <PictureHead {...{ row, picture, here }} />
          <TroubleNote trouble={trouble} />
          <div class="picture-body">
            <PictureMore {...{ shop, go, row, picture, address }} />
            <div class="picture-room">
              <MarkedPicture {...{ shop, row, picture, here, marking, marks }} />
            </div>
          </div>
        </div>
      </Sheet>
      {touchOff && <TouchOff onRelease={() => setTouchOff(false)} />}
    </>
  );
}

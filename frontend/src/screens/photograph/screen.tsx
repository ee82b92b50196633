import { useEffect, useState } from 'preact/hooks';
import {
  DetailPicture,
  Empty,
  GRADE_NAMES,
  type GradeFigure,
  Key,
  Loading,
  Loupe,
  SAFETY_SHORT,
  Sheet,
  TitleBlock,
  TouchOff,
} from '../../furniture';
import type { DefectRow, Json, ScreenProps } from '../../services/shop';
import { useLooking } from '../airframe/looking';
import { useUndo } from '../airframe/undoing';
import { CameraInput, useCamera } from '../frame/camera';
import { useFetched } from '../frame/fetched';
import { NotHere, type PictureHere, usePicture } from '../frame/picture_here';
import { RecordMark } from '../frame/record_mark';
import { RecordScale } from '../frame/record_scale';
import { useAirframeTitle } from '../frame/title';
import { type Trouble, TroubleNote, useTrouble } from '../frame/trouble';
import { unbroken } from '../frame/unbroken';
import { troubleOf } from '../frame/words';
import { useLive } from '../live';
import { OneMark, useMarks } from './marks_on';
import { PictureKeys } from './picture_keys';
import { type Picture, usePhotographs } from './pictures';
import { type MarkKind, markAt, type Placed, shapeOf } from './placed';
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
  const { url } = here;
  const beside = useFetched(() => import('../same_view/picture_beside'));
  const measured = useFetched(() => import('../measuring/measured_on'));
  const marks = useMarks(shop, picture.record);
  const [kind, setKind] = useState<MarkKind>('ring');
  const [touched, setPlaced] = useState<Placed | null>(null);
  // The key of the mark that is shown, touched again, leaves the picture without it.
  const [without, setWithout] = useState(false);
  const [touchOff, setTouchOff] = useState(false);
  const { trouble, run } = useTrouble();
  const [looking] = useLooking(shop);
  const undoing = useUndo(shop, [row], { record: row.record });
  const title = useAirframeTitle(shop);
  const address = `/airframe/${(row.number ?? '').replace('/', '')}`;
  const camera = useCamera(
    shop,
    (taken) => go(`${address}/photograph/${taken.photograph}`, 'replace'),
    (error) => run(() => Promise.reject(error)),
  );
  const size = { width_px: picture.width_px, height_px: picture.height_px };
  // The first ring stands in the middle already: a touch or the keys bring it to the defect.
  const middle = { x: size.width_px / 2, y: size.height_px / 2 };
  const first = marks?.length === 0 && !without ? markAt(kind, middle, size) : null;
  const placed = touched ?? first;
  const label = String((marks?.filter((one) => one.shape.kind === 'number').length ?? 0) + 1);
  const keep = () =>
    run(async () => {
      if (!shop.session || !placed) return;
      await shop.capture.addMark(shop.session, picture.record, shapeOf({ ...placed, label }));
      setPlaced(null);
      // Until the mark kept is read back no first ring is offered.
      setWithout(true);
    });
  const undo = () => (touched ? setPlaced(null) : void run(undoing.press));
  const say = (set: Record<string, Json>) =>
    run(async () => {
      if (shop.session) await shop.capture.setFields(shop.session, picture.record, set);
    });
  const pickKind = (next: MarkKind) => {
    const isOff = next === kind && placed !== null;
    setKind(next);
    setWithout(isOff);
    setPlaced(isOff ? null : markAt(next, touched ?? middle, size));
  };
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
            onKind={pickKind}
            onPlaced={setPlaced}
            onKeep={keep}
            onRole={(role) => say({ role })}
            onMirror={() => say({ mirrored: !picture.mirrored })}
            onMore={() =>
              camera.open({
                record: row.record,
                number: row.number ?? '',
                role: 'close',
                mirrored: false,
              })
            }
            onUndo={undo}
            onNext={() =>
              run(async () => {
                // A ring that nobody placed is no mark of what was seen.
                if (touched && shop.session)
                  await shop.capture.addMark(
                    shop.session,
                    picture.record,
                    shapeOf({ ...touched, label }),
                  );
                go(address);
              })
            }
            onTouchOff={() => setTouchOff(true)}
          />
        }
      >
        <div class="picture-view">
          <header class="picture-head">
            <RecordMark row={row} plain size={56} />
            <div>
              <h1>{row.number}</h1>
              <p class="picture-grade">
                {row.grade_words}
                {row.grade !== null &&
                  row.grade_known &&
                  ` ${GRADE_NAMES[row.grade as GradeFigure]}`}
              </p>
            </div>
            <p>
              <strong>{`${picture.role} picture, ${storedWords(here)}`}</strong>
              <span>
                {[row.kind && row.kind_words, unbroken(row.place_words ?? '')]
                  .filter(Boolean)
                  .join(' · ')}
                {picture.mirrored ? ' · seen in a mirror, shown turned' : ''}
              </span>
              <span class="picture-safety">{SAFETY_SHORT}</span>
            </p>
          </header>
          <TroubleNote trouble={trouble} />
          <div class="picture-more">
            {measured && <measured.ToMeasuring {...{ shop, go, row, picture, address }} />}
            {beside && (
              <beside.PictureBeside
                {...{ shop, go }}
                number={row.number ?? ''}
                photograph={picture.record}
              />
            )}
          </div>
          <div class="picture-room">
            {url ? (
              <DetailPicture
                src={url}
                alt={`${row.number}, ${picture.role}`}
                width_px={size.width_px}
                height_px={size.height_px}
                mirrored={picture.mirrored}
                eager
                onPick={(point) =>
                  setPlaced(placed ? { ...placed, ...point } : markAt(kind, point, size))
                }
              >
                {marks?.map((mark) => (
                  <OneMark key={mark.record} mark={mark} />
                ))}
                {measured && <measured.MeasuredOn {...{ shop, row, picture }} />}
                {placed && (
                  <OneMark
                    mark={{ record: picture.record, shape: shapeOf({ ...placed, label }) }}
                  />
                )}
                {touched && <Loupe at={touched} src={url} {...size} />}
              </DetailPicture>
            ) : here.lack ? (
              <NotHere shop={shop} picture={here} what="The photograph" />
            ) : (
              <Loading what="The photograph" />
            )}
          </div>
        </div>
      </Sheet>
      {touchOff && <TouchOff onRelease={() => setTouchOff(false)} />}
    </>
  );
}

/** The bytes that are shown were read back from the disk, so what is shown is stored. */
function storedWords({ url, lack }: PictureHere): string {
  if (url) return 'stored on this tablet';
  if (lack === 'not shown') return 'stored on this tablet, not shown';
  return lack ? 'not on this tablet' : 'being read back …';
}

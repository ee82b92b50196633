import { useState } from 'preact/hooks';
import {
  DetailPicture,
  Empty,
  Key,
  Loading,
  Loupe,
  SAFETY_SHORT,
  Sheet,
  TitleBlock,
  TouchOff,
} from '../../furniture';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { useLooking } from '../airframe/looking';
import { useUndo } from '../airframe/undoing';
import { NotHere, usePicture } from '../frame/picture_here';
import { RecordMark } from '../frame/record_mark';
import { RecordScale } from '../frame/record_scale';
import { useAirframeTitle } from '../frame/title';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { useLive } from '../live';
import { OneMark, useMarks } from '../photograph/marks_on';
import { type Picture, usePhotographs } from '../photograph/pictures';
import '../frame/picture_keys.css';
import '../photograph/screen.css';
import { CardCheck } from './card_check';
import { useDoes } from './does';
import { MeasuredDrawn, Outline, PointsDrawn, ScaleDrawn } from './drawn';
import { FigureKeys } from './figure_keys';
import { MeasuringKeys } from './keys';
import { type Measuring, type Mode, tell, useMeasuring } from './measuring';
import { tapOf, tenths, touched } from './placing';
import { Readout } from './readout';
import './screen.css';

/** A photograph measured: a scale laid beside, points by touch, figures with their ±. */
export default function MeasuringScreen(props: ScreenProps) {
  const { shop, params, go } = props;
  const number = params.number ?? '';
  const row = useLive(shop, async () => (await shop.book.numbered(number))[0] ?? null, [number]);
  const photographs = usePhotographs(shop, row?.record);
  const picture = photographs?.find((one) => one.record === params.photograph);
  const title = useAirframeTitle(shop);
  if (row && picture)
    return <OneMeasured key={picture.record} {...props} row={row} picture={picture} />;
  return (
    <Sheet layout="airframe" title={<TitleBlock variant="airframe" cells={title} />}>
      {row && photographs ? (
        <Empty looked_at title="This photograph was taken back" cells={`${number} is still here.`}>
          <Key label={`TO ${number}`} kind="main" onPress={() => go(`/airframe/${number}`)} />
        </Empty>
      ) : (
        <Loading what={`The photograph of ${number}`} />
      )}
    </Sheet>
  );
}

type Props = ScreenProps & { row: DefectRow; picture: Picture };

function OneMeasured({ shop, go, row, picture }: Props) {
  const here = usePicture(shop, picture.sha256);
  const all = useMeasuring(shop, picture, row.record);
  const [step, setStep] = useState(1);
  const [touchOff, setTouchOff] = useState(false);
  const [note, setNote] = useState<string | null>(null);
  const { trouble, run, setTrouble } = useTrouble();
  const said = () => {
    setNote(null);
    setTrouble(null);
  };
  const setMode = (mode: Mode) => {
    said();
    all.setMode(mode);
  };
  const measuring = { ...all, setMode };
  const [looking] = useLooking(shop);
  const undo = useUndo(shop, [row], { record: row.record });
  const title = useAirframeTitle(shop);
  const address = `/airframe/${(row.number ?? '').replace('/', '')}`;
  const size = { width_px: picture.width_px, height_px: picture.height_px };
  const back = () => go(`${address}/photograph/${picture.record}`);
  const toRecord = () => go(address);
  const tools = { shop, row, picture, measuring, run, undo, setNote, back, toRecord };
  const { does, fields } = useDoes({ ...tools, touchOff: () => setTouchOff(true) });
  const { mode } = measuring;
  const scale = measuring.standing?.scale;
  return (
    <>
      <Sheet
        layout="airframe"
        hand={looking.hand}
        top={<RecordScale shop={shop} row={row} />}
        title={<TitleBlock variant="airframe" cells={title} />}
        keys={
          mode.at === 'figures' ? (
            <FigureKeys {...{ shop, measuring, mode, does, undo }} hand={looking.hand} />
          ) : (
            <MeasuringKeys
              {...{ measuring, size, step, fields, undo, does }}
              onStep={setStep}
              mirrored={picture.mirrored}
            />
          )
        }
      >
        <div class="picture-view">
          <header class="picture-head">
            <RecordMark row={row} plain size={56} />
            <h1>{row.number}</h1>
            <p>
              <strong>{`${picture.role} picture, measured`}</strong>
              <span>{picture.mirrored ? 'seen in a mirror, shown turned' : row.kind_words}</span>
              <span class="picture-safety">{SAFETY_SHORT}</span>
            </p>
          </header>
          <div class={isTall(picture) ? 'measuring-room tall' : 'measuring-room'}>
            <div class="picture-room">
              {here.url ? (
                <Shown {...{ shop, row, picture, measuring, url: here.url }} said={said} />
              ) : here.lack ? (
                <NotHere shop={shop} picture={here} what="The photograph" />
              ) : (
                <Loading what="The photograph" />
              )}
            </div>
            <div class="measuring-said">
              <TroubleNote trouble={trouble} />
              {mode.at !== 'figures' && (
                <Readout {...{ measuring, note }} other={otherOf(measuring, picture)} />
              )}
              {scale?.method === 'scale card' && (
                <CardCheck {...{ shop, sha256: picture.sha256, points: scale.points }} />
              )}
            </div>
          </div>
        </div>
      </Sheet>
      {touchOff && <TouchOff onRelease={() => setTouchOff(false)} />}
    </>
  );
}

const isTall = ({ width_px, height_px }: Picture) => height_px > width_px;

interface ShownProps {
  shop: ScreenProps['shop'];
  row: DefectRow;
  picture: Picture;
  measuring: Measuring;
  url: string;
  said: () => void;
}

/** The picture with its marks, its scale, what was measured, and the points being placed. */
function Shown({ shop, row, picture, measuring, url, said }: ShownProps) {
  const { width_px, height_px } = picture;
  const { mode, placing, place, most, standing } = measuring;
  const marks = useMarks(shop, picture.record);
  const point = placing.points[placing.at];
  return (
    <DetailPicture
      src={url}
      alt={`${row.number}, ${picture.role}`}
      {...{ width_px, height_px, mirrored: picture.mirrored }}
      eager
      onPick={(point, grain) => {
        said();
        if (most > 0) place(touched(placing, { ...point, grain }, most));
      }}
    >
      {marks?.map((mark) => (
        <OneMark key={mark.record} mark={mark} />
      ))}
      {standing?.scale && <ScaleDrawn scale={standing.scale} height_px={height_px} />}
      {standing?.measurements.map((one) => {
        const told = measuring.toldOf(one);
        const isShown = placing.points.length === 0 && one.record === measuring.chosen?.record;
        const words = 'told' in told && isShown ? told.told.words : undefined;
        const points = one.points.map(([x, y]) => ({ x: x / 10, y: y / 10 }));
        return <MeasuredDrawn key={one.record} {...{ shape: one.shape, points, words }} />;
      })}
      {mode.at === 'points' && placing.points.length > 1 && (
        <Outline points={placing.points} closed={placing.points.length === most} />
      )}
      {mode.at === 'measure' && <Placed measuring={measuring} />}
      <PointsDrawn points={placing.points} at={placing.at} />
      {point && (
        <Loupe at={point} src={url} {...{ width_px, height_px }} px={3} clear={placing.points} />
      )}
    </DetailPicture>
  );
}

function Placed({ measuring }: { measuring: Measuring }) {
  const { mode, placing, now } = measuring;
  if (mode.at !== 'measure' || placing.points.length < 2) return null;
  if (mode.shape === 'outline') return <Outline points={placing.points} closed />;
  const words = now && 'told' in now ? now.told.words : undefined;
  return <MeasuredDrawn shape={mode.shape} points={placing.points} words={words} />;
}

/** The figure shown, in the other unit. */
function otherOf(measuring: Measuring, picture: Picture) {
  const { mode, placing, standing, unit, chosen } = measuring;
  if (mode.at !== 'measure' || mode.shape === 'outline') return null;
  const { points } = placing;
  const { shape } = mode;
  const one = points.length ? { shape, points: tenths(points), tap: tapOf(points) } : chosen;
  if (!one || !standing) return null;
  return tell(standing.scale, one, picture, unit === 'in' ? 'mm' : 'in');
}

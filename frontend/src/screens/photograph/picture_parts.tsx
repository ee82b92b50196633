import {
  DetailPicture,
  GRADE_NAMES,
  type GradeFigure,
  Loading,
  Loupe,
  SAFETY_SHORT,
} from '../../furniture';
import type { DefectRow, ScreenProps } from '../../services/shop';
import { useFetched } from '../frame/fetched';
import { NotHere, type PictureHere } from '../frame/picture_here';
import { RecordMark } from '../frame/record_mark';
import { unbroken } from '../frame/unbroken';
import type { Marking } from './marking';
import { type MarkOn, OneMark } from './marks_on';
import type { Picture } from './pictures';
import { shapeOf } from './placed';

interface PartProps {
  row: DefectRow;
  picture: Picture;
  here: PictureHere;
}

/** The record, its grade, and what this picture of it is. */
export function PictureHead({ row, picture, here }: PartProps) {
  const about = [row.kind && row.kind_words, unbroken(row.place_words ?? '')].filter(Boolean);
  return (
    <header class="picture-head">
      <RecordMark row={row} plain size={56} />
      <div>
        <h1>{row.number}</h1>
        <p class="picture-grade">{gradeWords(row)}</p>
      </div>
      <p>
        <strong>{`${picture.role} picture, ${storedWords(here)}`}</strong>
        <span>
          {about.join(' · ')}
          {picture.mirrored ? ' · seen in a mirror, shown turned' : ''}
        </span>
        <span class="picture-safety">{SAFETY_SHORT}</span>
      </p>
    </header>
  );
}

function gradeWords({ grade, grade_known, grade_words }: DefectRow): string {
  const name = grade !== null && grade_known ? ` ${GRADE_NAMES[grade as GradeFigure]}` : '';
  return `${grade_words}${name}`;
}

/** The bytes that are shown were read back from the disk, so what is shown is stored. */
function storedWords({ url, lack }: PictureHere): string {
  if (url) return 'stored on this tablet';
  if (lack === 'not shown') return 'stored on this tablet, not shown';
  return lack ? 'not on this tablet' : 'being read back …';
}

/** What leads on from the picture; how is fetched when the picture is shown. */
export function PictureMore(
  props: Pick<ScreenProps, 'shop' | 'go'> & Omit<PartProps, 'here'> & { address: string },
) {
  const { shop, go, row, picture } = props;
  const beside = useFetched(() => import('../same_view/picture_beside'));
  const measured = useFetched(() => import('../measuring/measured_on'));
  const number = row.number ?? '';
  return (
    <div class="picture-more">
      {measured && <measured.ToMeasuring {...props} />}
      {beside && <beside.PictureBeside {...{ shop, go, number }} photograph={picture.record} />}
    </div>
  );
}

/** The picture with its marks, what was measured on it, and the mark being placed. */
export function MarkedPicture(
  props: PartProps & { marking: Marking; marks: MarkOn[] | undefined } & Pick<ScreenProps, 'shop'>,
) {
  const { shop, row, picture, here, marking, marks } = props;
  const measured = useFetched(() => import('../measuring/measured_on'));
  const { placed, touched, label, size } = marking;
  if (!here.url && here.lack) return <NotHere shop={shop} picture={here} what="The photograph" />;
  if (!here.url) return <Loading what="The photograph" />;
  return (
    <DetailPicture
      src={here.url}
      alt={`${row.number}, ${picture.role}`}
      {...size}
      mirrored={picture.mirrored}
      eager
      onPick={marking.touch}
    >
      {marks?.map((mark) => (
        <OneMark key={mark.record} mark={mark} />
      ))}
      {measured && <measured.MeasuredOn {...{ shop, row, picture }} />}
      {placed && (
        <OneMark mark={{ record: picture.record, shape: shapeOf({ ...placed, label }) }} />
      )}
      {touched && <Loupe at={touched} src={here.url} {...size} />}
    </DetailPicture>
  );
}

import { useState } from 'preact/hooks';
import { DeskKey, DetailPicture } from '../../furniture';
import type { DefectRow, Shop } from '../../services/shop';
import { NotHere, usePicture } from '../frame/picture_here';
import { MarksOn } from '../photograph/marks_on';
import { type Picture, whenWords } from '../photograph/pictures';

/** The last two pictures of a record as details of the sheet. */
export function Details(props: { shop: Shop; row: DefectRow; photographs: Picture[] }) {
  const { photographs } = props;
  const shown = photographs.slice(-2).reverse();
  if (shown.length === 0) return <p class="no-view">No photograph.</p>;
  return (
    <div class="record-details">
      {shown.map((picture, at) => (
        <Detail
          key={picture.record}
          {...props}
          picture={picture}
          letter={'AB'[at] ?? 'A'}
          caption={captionOf(picture, photographs)}
        />
      ))}
    </div>
  );
}

/** One picture as detail A, and a key to the others. */
export function OneDetail(props: { shop: Shop; row: DefectRow; photographs: Picture[] }) {
  const { photographs } = props;
  const last = photographs.length - 1;
  const [at, setAt] = useState<number | null>(null);
  const shown = Math.min(at ?? firstShown(photographs), last);
  const picture = photographs[shown];
  if (!picture) return <p class="no-view">No photograph.</p>;
  return (
    <div class="one-detail">
      <Detail
        key={picture.record}
        {...props}
        picture={picture}
        letter="A"
        caption={last > 0 ? '' : captionOf(picture, photographs)}
      />
      {last > 0 && (
        <nav class="detail-keys" aria-label="Photographs">
          <DeskKey
            label={picture.day ? `${picture.role} · ${picture.day}` : picture.role}
            second={[
              ...(picture.day ? [] : [whenWords(picture)]),
              `${shown + 1} of ${photographs.length}, touch for the next`,
            ].join('\n')}
            onPress={() => setAt((shown + 1) % photographs.length)}
          />
        </nav>
      )}
    </div>
  );
}

/** The newest close picture, small, for the head of the sheet. */
export function HeadPicture(props: { shop: Shop; row: DefectRow; photographs: Picture[] }) {
  const picture = props.photographs[firstShown(props.photographs)];
  const { url } = usePicture(props.shop, picture?.sha256, 320);
  if (!picture || !url)
    return <p class="head-picture">{picture ? 'picture not here' : 'no picture'}</p>;
  return (
    <div class="head-picture">
      <DetailPicture
        src={url}
        alt={`${props.row.number}, ${picture.role}`}
        width_px={picture.width_px}
        height_px={picture.height_px}
        mirrored={picture.mirrored}
        eager
      >
        <MarksOn shop={props.shop} photograph={picture.record} />
      </DetailPicture>
    </div>
  );
}

/** The newest picture that is not a wide one. */
function firstShown(photographs: Picture[]): number {
  const close = photographs.findLastIndex(({ role }) => role !== 'wide');
  return close < 0 ? photographs.length - 1 : close;
}

function captionOf(picture: Picture, photographs: Picture[]): string {
  const place = `${photographs.indexOf(picture) + 1} of ${photographs.length}`;
  return [picture.role, whenWords(picture), place].join(' · ');
}

function Detail(props: {
  shop: Shop;
  row: DefectRow;
  picture: Picture;
  letter: string;
  caption: string;
}) {
  const { picture } = props;
  const here = usePicture(props.shop, picture.sha256, 1000);
  const { url } = here;
  if (here.lack)
    return <NotHere shop={props.shop} picture={here} what={`Photograph ${props.letter}`} />;
  if (!url) return <p class="no-view">Photograph {props.letter} is on its way …</p>;
  return (
    <DetailPicture
      src={url}
      alt={`${props.row.number}, ${picture.role}`}
      width_px={picture.width_px}
      height_px={picture.height_px}
      mirrored={picture.mirrored}
      letter={props.letter}
      caption={props.caption || undefined}
    >
      <MarksOn shop={props.shop} photograph={picture.record} />
    </DetailPicture>
  );
}

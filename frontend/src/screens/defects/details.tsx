import { useState } from 'preact/hooks';
import { DeskKey, DetailPicture } from '../../furniture';
import type { DefectRow, Shop } from '../../services/shop';
import { NotHere, usePicture } from '../frame/picture_here';
import { MarksOn } from '../photograph/marks_on';
import { type Picture, whenWords } from '../photograph/pictures';
import { useFirstPicture } from './first_picture';

/** Two pictures of a record as details of the sheet: the one to look at first, and the newest. */
export function Details(props: { shop: Shop; row: DefectRow; photographs: Picture[] }) {
  const { shop, row, photographs } = props;
  const first = useFirstPicture(shop, row, photographs);
  if (photographs.length === 0) return <p class="no-view">No photograph.</p>;
  if (first === undefined) return <p class="no-view">Photographs are on their way …</p>;
  const rest = photographs.filter((_, at) => at !== first);
  const shown = [photographs[first], rest.at(-1)].filter((one) => one !== undefined);
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
  const first = useFirstPicture(props.shop, props.row, photographs);
  const last = photographs.length - 1;
  const [at, setAt] = useState<number | null>(null);
  if (first === undefined && last >= 0) return <p class="no-view">Photograph A is on its way …</p>;
  const shown = Math.min(at ?? first ?? last, last);
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

/** The picture to look at first, small, for the head of the sheet. */
export function HeadPicture(props: { shop: Shop; row: DefectRow; photographs: Picture[] }) {
  const first = useFirstPicture(props.shop, props.row, props.photographs);
  const picture = props.photographs[first ?? props.photographs.length - 1];
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

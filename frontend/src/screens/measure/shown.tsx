import { DetailPicture } from '../../furniture';
import type { DefectRow, Shop } from '../../services/shop';
import { MarksOn } from '../photograph/marks_on';
import { type Picture, usePhotograph, usePhotographs, whenWords } from '../photograph/pictures';

/** The pictures of a record in what room is left on the sheet, wide beside close. */
export function Shown(props: { shop: Shop; row: DefectRow }) {
  const { shop, row } = props;
  const photographs = usePhotographs(shop, row.record) ?? [];
  return (
    <div class="measure-shown">
      <div class="shown-pair">
        {photographs.slice(-2).map((picture, at) => (
          <One
            key={picture.record}
            shop={shop}
            row={row}
            picture={picture}
            letter={at === 0 ? 'A' : 'B'}
          />
        ))}
      </div>
    </div>
  );
}

function One(props: { shop: Shop; row: DefectRow; picture: Picture; letter: string }) {
  const { shop, row, picture, letter } = props;
  const url = usePhotograph(shop, picture.sha256, 1000);
  if (!url) return null;
  return (
    <DetailPicture
      src={url}
      alt={`${row.number}, ${picture.role}`}
      width_px={picture.width_px}
      height_px={picture.height_px}
      mirrored={picture.mirrored}
      letter={letter}
      caption={`${picture.role} · ${whenWords(picture)}`}
    >
      <MarksOn shop={shop} photograph={picture.record} />
    </DetailPicture>
  );
}

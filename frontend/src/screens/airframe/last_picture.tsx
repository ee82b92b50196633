import { DetailPicture } from '../../furniture';
import type { DefectRow, Shop } from '../../services/shop';
import { MarksOn } from '../photograph/marks_on';
import { usePhotograph, usePhotographs } from '../photograph/pictures';

/** The last picture of the nearest record here, set into the sheet as a detail. */
export function LastPicture({ shop, rows }: { shop: Shop; rows: DefectRow[] }) {
  const row = rows[0];
  const photographs = usePhotographs(shop, row?.record);
  const last = photographs?.at(-1);
  const url = usePhotograph(shop, last?.sha256, 1600);
  if (!row || !last || !url) return <p class="no-picture">No picture of this place yet.</p>;
  return (
    <DetailPicture
      src={url}
      alt={`${row.number}, ${last.role}`}
      width_px={last.width_px}
      height_px={last.height_px}
      heading={`${row.number} last time${last.day ? `, ${last.day}` : ''}`}
    >
      <MarksOn shop={shop} photograph={last.record} />
    </DetailPicture>
  );
}

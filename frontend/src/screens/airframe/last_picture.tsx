import { DetailPicture } from '../../furniture';
import type { DefectRow, Shop } from '../../services/shop';
import { MarksOn } from '../photograph/marks_on';
import { usePhotograph, usePhotographs } from '../photograph/pictures';

/** The last picture of a record here, set into the sheet as a detail. */
export function LastPicture({ shop, row }: { shop: Shop; row: DefectRow | undefined }) {
  const photographs = usePhotographs(shop, row?.record);
  const last = photographs?.at(-1);
  const url = usePhotograph(shop, last?.sha256, 1600);
  if (!row || !last || !url) return <HowTo />;
  return (
    <DetailPicture
      src={url}
      alt={`${row.number}, ${last.role}`}
      width_px={last.width_px}
      height_px={last.height_px}
      mirrored={last.mirrored}
      heading={`${row.number} ${timeWords(last.day ?? last.received?.[0] ?? null, shop.today())}`}
    >
      <MarksOn shop={shop} photograph={last.record} />
    </DetailPicture>
  );
}

/** "last time, 2025-03-08"; a picture of today is of this time. */
function timeWords(day: string | null, today: string): string {
  return day !== null && day < today ? `last time, ${day}` : 'this time';
}

/** How to fill this in: what stands here while the place has no picture. */
function HowTo() {
  return (
    <section class="how-to">
      <h2 class="cap">How to fill this in</h2>
      <ol>
        <li>Touch the drawing, or step with FWD and AFT, until the frame lies round your bay.</li>
        <li>SHUTTER gives the number and stores it, then the camera opens.</li>
        <li>
          Ring the defect, say its kind, type what you measured: the grade comes with its why.
        </li>
      </ol>
    </section>
  );
}

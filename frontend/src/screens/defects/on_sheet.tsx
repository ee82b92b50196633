import { useContext } from 'preact/hooks';
import { isShown, type PictureView, picturePoint, pictureViews } from '../../domain/place';
import { DetailPicture, PictureScale, ViewFrame } from '../../furniture';
import type { DefectRow, Definition, Shop } from '../../services/shop';
import { NotHere, usePicture } from '../frame/picture_here';

/** The newest calibrated drawing that a record lies on, with its place ringed; nothing where none. */
export function OnSheet({ shop, row }: { shop: Shop; row: DefectRow }) {
  const { definition } = shop;
  const view = definition && newestOf(definition, row);
  return view ? <Ringed {...{ shop, row, definition, view }} /> : null;
}

function newestOf(definition: Definition, row: DefectRow): PictureView | undefined {
  const { place, structure } = row;
  if (!place || !structure) return undefined;
  return pictureViews(definition, structure).findLast((one) => isShown(one, definition, place));
}

function Ringed(props: { shop: Shop; row: DefectRow; definition: Definition; view: PictureView }) {
  const { shop, row, definition, view } = props;
  const picture = usePicture(shop, view.picture.sha256);
  if (!row.place) return null;
  const [x, y] = picturePoint(view, definition, row.place);
  const sheet = view.sheet ? `sheet ${view.sheet}, issue ${view.issue ?? '–'}` : undefined;
  return (
    <ViewFrame title={view.title.toUpperCase()} fwd={view.forward} second={sheet}>
      {picture.lack && <NotHere {...{ shop, picture }} what={view.title} />}
      {picture.url && (
        <DetailPicture
          src={picture.url}
          alt={`${view.title}: ${row.number} at ${row.place_words}`}
          width_px={view.picture.width_px}
          height_px={view.picture.height_px}
        >
          <Ring x={x} y={y} />
        </DetailPicture>
      )}
    </ViewFrame>
  );
}

/** A ring that keeps its size at any width of the sheet, over a paler edge. */
function Ring({ x, y }: { x: number; y: number }) {
  const scale = useContext(PictureScale);
  return (
    <g class="wax">
      <circle class="wax-edge" cx={x} cy={y} r={11 * scale} fill="none" stroke-width={8 * scale} />
      <circle class="wax-core" cx={x} cy={y} r={11 * scale} fill="none" stroke-width={4 * scale} />
    </g>
  );
}

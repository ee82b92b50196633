import { Key } from '../../furniture';
import type { DefectRow, Shop } from '../../services/shop';
import { unbroken } from '../frame/unbroken';
import { useLive } from '../live';
import { OneMark, useMarks } from '../photograph/marks_on';
import { type Picture, usePhotograph, usePhotographs } from '../photograph/pictures';

/** Number, what and where, how many copies there are, and the pictures taken. */
export function Head(props: {
  shop: Shop;
  row: DefectRow;
  onAddress: (address: string) => void;
  /** Leaves the record as it is and goes back to the airframe. */
  onLater: () => void;
}) {
  const { shop, row } = props;
  const unsent = useLive(shop, () => shop.book.unsent(), []);
  const photographs = usePhotographs(shop, row.record) ?? [];
  const what = [row.kind_words ?? 'Kind?', row.part].filter(Boolean).join(' · ');
  return (
    <header class="measure-head">
      <div>
        <h1>{row.number}</h1>
        {unsent?.has(row.record) && <p class="measure-stored">1 copy, this tablet</p>}
      </div>
      <div>
        <p class="measure-what">{what}</p>
        <p class="measure-where">{unbroken(row.place_words ?? '')}</p>
      </div>
      <nav class="measure-pictures" aria-label="Photographs">
        {photographs.slice(-2).map((picture) => (
          <Thumbnail
            key={picture.record}
            shop={shop}
            row={row}
            picture={picture}
            onAddress={props.onAddress}
          />
        ))}
      </nav>
      <Key
        label="LATER"
        second={row.state === 'Draft' ? 'keeps the draft' : 'to the airframe'}
        onPress={props.onLater}
      />
    </header>
  );
}

function Thumbnail(props: {
  shop: Shop;
  row: DefectRow;
  picture: Picture;
  onAddress: (address: string) => void;
}) {
  const { shop, row, picture } = props;
  const url = usePhotograph(shop, picture.sha256, 320);
  const marks = useMarks(shop, picture.record) ?? [];
  const address = `/airframe/${(row.number ?? '').replace('/', '')}/photograph/${picture.record}`;
  return (
    <a
      href={address}
      onClick={(event) => {
        event.preventDefault();
        props.onAddress(address);
      }}
    >
      {url && (
        <span class={picture.mirrored ? 'thumb mirrored' : 'thumb'}>
          <img src={url} alt="" />
          <svg
            aria-hidden="true"
            viewBox={`0 0 ${picture.width_px} ${picture.height_px}`}
            preserveAspectRatio="xMidYMid slice"
          >
            {marks.map((mark) => (
              <OneMark key={mark.record} mark={mark} core_px={3} />
            ))}
          </svg>
        </span>
      )}
      <span>{picture.role}</span>
    </a>
  );
}

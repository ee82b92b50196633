import type { DefectRow, Json, ScreenProps, Shop } from '../../services/shop';
import { useLive } from '../live';
import { type Picture, usePhotograph, usePhotographs } from '../photograph/pictures';

/** Number, what and where, how many copies there are, and the pictures taken. */
export function Head(props: {
  shop: Shop;
  row: DefectRow;
  values: Record<string, Json>;
  onAddress: ScreenProps['go'];
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
        <p class="measure-where">{row.place_words}</p>
      </div>
      <nav class="measure-pictures" aria-label="Photographs">
        {photographs.slice(-2).map((picture) => (
          <Thumbnail key={picture.record} {...props} picture={picture} />
        ))}
      </nav>
    </header>
  );
}

function Thumbnail(props: {
  shop: Shop;
  row: DefectRow;
  picture: Picture;
  onAddress: ScreenProps['go'];
}) {
  const { shop, row, picture } = props;
  const url = usePhotograph(shop, picture.sha256, 320);
  const address = `/airframe/${(row.number ?? '').replace('/', '')}/photograph/${picture.record}`;
  return (
    <a
      href={address}
      onClick={(event) => {
        event.preventDefault();
        props.onAddress(address);
      }}
    >
      {url && <img src={url} alt="" />}
      <span>{picture.role}</span>
    </a>
  );
}

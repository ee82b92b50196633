import { useContext } from 'preact/hooks';
import { DetailPicture, Loading, Loupe, PictureBounds, PictureScale } from '../../furniture';
import type { Shop } from '../../services/shop';
import { NotHere, usePicture } from '../frame/picture_here';
import type { Spot, Touching, Which } from './touching';
import { dayOf, type ViewPicture } from './view_pictures';

/** Both pictures to touch the same three rivets in; the one whose turn it is stands large. */
export function Rivets(props: {
  shop: Shop;
  earlier: ViewPicture;
  here: ViewPicture;
  touching: Touching;
}) {
  const { shop, earlier, here, touching } = props;
  return (
    <div class="rivet-pair">
      <One shop={shop} which="earlier" picture={earlier} touching={touching} />
      <One shop={shop} which="here" picture={here} touching={touching} />
    </div>
  );
}

function One(props: { shop: Shop; which: Which; picture: ViewPicture; touching: Touching }) {
  const { shop, which, picture, touching } = props;
  const here = usePicture(shop, picture.sha256);
  const { active } = touching;
  const name = which === 'here' ? 'now' : 'earlier';
  const spot = active.which === which ? touching.spots[which][active.at] : null;
  if (here.lack)
    return (
      <div class="rivet-picture">
        <NotHere shop={shop} picture={here} what={`The ${name} picture`} />
      </div>
    );
  return (
    <div class={active.which === which ? 'rivet-picture active' : 'rivet-picture'}>
      {here.url ? (
        <DetailPicture
          src={here.url}
          alt={`${picture.number}, ${name}`}
          width_px={picture.width_px}
          height_px={picture.height_px}
          mirrored={picture.mirrored}
          caption={`${name}, ${dayOf(picture)}`}
          eager
          onPick={(point) => touching.touch(which, point)}
        >
          {touching.spots[which].map((one, at) => (
            <RivetSpot key={String(at)} spot={one} at={at} active={one !== null && one === spot} />
          ))}
          {spot && (
            <Loupe
              at={spot}
              src={here.url}
              width_px={picture.width_px}
              height_px={picture.height_px}
            />
          )}
        </DetailPicture>
      ) : (
        <Loading what={`The ${name} picture`} />
      )}
    </div>
  );
}

/** A ring round a rivet that was touched, with its number; the active one is heavier. */
function RivetSpot({ spot, at, active }: { spot: Spot; at: number; active: boolean }) {
  const scale = useContext(PictureScale);
  const isTurned = useContext(PictureBounds)?.mirrored === true;
  if (!spot) return null;
  const r = 11 * scale;
  return (
    <g class={active ? 'rivet-spot active' : 'rivet-spot'}>
      <circle class="rivet-edge" cx={spot.x} cy={spot.y} r={r} />
      <circle class="rivet-core" cx={spot.x} cy={spot.y} r={r} />
      <path
        class="rivet-cross"
        d={`M${spot.x - 4 * scale} ${spot.y}h${8 * scale}M${spot.x} ${spot.y - 4 * scale}v${8 * scale}`}
      />
      <text
        class="rivet-number"
        transform={`translate(${spot.x + (isTurned ? -15 : 15) * scale} ${spot.y - 9 * scale})${isTurned ? ' scale(-1 1)' : ''}`}
        font-size={22 * scale}
      >
        {at + 1}
      </text>
    </g>
  );
}

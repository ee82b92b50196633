import { DeskKey } from '../../furniture';
import type { PhotographRole, ScreenProps } from '../../services/shop';
import { liveAddress } from '../frame/camera_choice';
import { useAlongside } from './alongside';
import { AlongsideStrip } from './alongside_strip';
import { useViewPicture } from './view_pictures';
import './picture_beside.css';

export interface PictureBesideProps extends Pick<ScreenProps, 'shop' | 'go'> {
  number: string;
  photograph: string;
}

/** What leads from one photograph to others of its view, and the pictures held alongside. */
export function PictureBeside({ shop, go, number, photograph }: PictureBesideProps) {
  const alongside = useAlongside(shop);
  const picture = useViewPicture(shop, photograph);
  const here = `/airframe/${number.replace('/', '')}/photograph/${photograph}`;
  const is_held = alongside.held.includes(photograph);
  const role = (picture?.role ?? 'close') as PhotographRole;
  const again = liveAddress({ number, role, mirrored: picture?.mirrored ?? false }, photograph);
  return (
    <div class="picture-beside">
      <nav class="beside-keys" aria-label="Same view">
        <DeskKey
          label="TAKE AGAIN"
          second="same view"
          unavailable={picture?.closed ? `closed: ${picture.closed_why ?? ''}` : undefined}
          onPress={() => go(again)}
        />
        <DeskKey
          label="COMPARE"
          second={picture?.repeat_of ? 'with the one before' : 'with an earlier one'}
          onPress={() => go(`${here}/same-view`)}
        />
        <DeskKey
          label="HOLD ALONGSIDE"
          second={is_held ? 'let it go' : `${alongside.held.length} of 4 held`}
          chosen={is_held}
          onPress={() => (is_held ? alongside.letGo(photograph) : alongside.hold(photograph))}
        />
      </nav>
      <AlongsideStrip
        shop={shop}
        alongside={alongside}
        actions={[{ label: 'SHOW BESIDE', act: (one) => go(`${here}/same-view?with=${one}`) }]}
      />
    </div>
  );
}

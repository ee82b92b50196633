import { useEffect, useState } from 'preact/hooks';
import type { Shop } from '../../services/shop';
import { usePicture } from '../frame/picture_here';
import { outlineOf } from './outline';
import type { ViewPicture } from './view_pictures';

/** How strongly the earlier picture is seen: in percent, by its edges alone, or not. */
export type Strength = 20 | 40 | 60 | 'outline' | 'none';

/** An earlier picture over the live view, shown as it was seen. */
export function Ghost(props: { shop: Shop; picture: ViewPicture; strength: Strength }) {
  const { shop, picture, strength } = props;
  const here = usePicture(shop, picture.sha256, 1600);
  const outline = useOutline(strength === 'outline' ? here.url : null);
  if (strength === 'none') return null;
  if (here.lack) return <p class="live-lack">{`The picture of ${picture.number} is not here.`}</p>;
  const src = strength === 'outline' ? outline : here.url;
  if (!src) return null;
  const classes = ['ghost', `ghost-${strength}`, ...(picture.mirrored ? ['mirrored'] : [])];
  return <img class={classes.join(' ')} src={src} alt="" draggable={false} />;
}

/** The address of a picture's outline; given back when another is drawn or the screen is left. */
function useOutline(src: string | null): string | null {
  const [outline, setOutline] = useState<string | null>(null);
  useEffect(() => {
    setOutline(null);
    if (!src) return;
    let left = false;
    let drawn: string | null = null;
    outlineOf(src).then(
      (url) => {
        drawn = url;
        if (left) URL.revokeObjectURL(url);
        else setOutline(url);
      },
      () => {}, // What can't be drawn is not shown; the other strengths remain.
    );
    return () => {
      left = true;
      if (drawn) URL.revokeObjectURL(drawn);
    };
  }, [src]);
  return outline;
}

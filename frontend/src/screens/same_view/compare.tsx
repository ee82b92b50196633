import { useLayoutEffect, useRef } from 'preact/hooks';
import { DetailPicture, Loading, useWidth } from '../../furniture';
import type { Shop } from '../../services/shop';
import { NotHere, usePicture } from '../frame/picture_here';
import type { Comparing } from './comparing';
import { sizeOf } from './touching';
import { dayOf, type ViewPicture } from './view_pictures';
import { cssTransform } from './warp';

export interface CompareProps {
  shop: Shop;
  earlier: ViewPicture;
  here: ViewPicture;
  /** From this picture to the earlier one, as shown; null: not fitted. */
  to_other: readonly number[] | null;
  comparing: Comparing;
}

/** Two pictures of one view: swapped or slid in one frame, the new one laid by its fit, or beside. */
export function Compare(props: CompareProps) {
  const { shop, earlier, here, comparing } = props;
  const [old, now] = [usePicture(shop, earlier.sha256, 1600), usePicture(shop, here.sha256, 1600)];
  if (old.lack) return <NotHere shop={shop} picture={old} what="The earlier picture" />;
  if (now.lack) return <NotHere shop={shop} picture={now} what="The picture" />;
  if (!old.url || !now.url) return <Loading what="Both pictures" />;
  const urls = { old: old.url, now: now.url };
  return comparing.mode === 'beside' ? (
    <Beside {...props} {...urls} />
  ) : (
    <InOneFrame {...props} {...urls} />
  );
}

type Shown = CompareProps & { old: string; now: string };

function InOneFrame({ earlier, here, to_other, comparing, old, now }: Shown) {
  const frame = useRef<HTMLDivElement>(null);
  const over = useRef<HTMLDivElement>(null);
  const laid = useRef<HTMLImageElement>(null);
  const line = useRef<HTMLDivElement>(null);
  const shown_px = useWidth(frame, 400);
  const { mode, shown, share } = comparing;
  useLayoutEffect(() => {
    // The policy lets scripts set styles, and no attribute.
    if (!over.current || !laid.current) return;
    const { style } = laid.current;
    style.width = `${here.width_px}px`;
    style.height = `${here.height_px}px`;
    style.transform = cssTransform(
      { size: sizeOf(here), mirrored: here.mirrored },
      sizeOf(earlier),
      shown_px,
      to_other,
    );
    over.current.style.clipPath = mode === 'slide' ? `inset(0 0 0 ${share}%)` : '';
    if (line.current) line.current.style.left = `${share}%`;
  });
  const is_under = mode === 'blink' && shown === 'earlier';
  return (
    <div class="compare-room">
      <div class="compare-frame" ref={frame}>
        <img
          class={earlier.mirrored ? 'compare-under mirrored' : 'compare-under'}
          src={old}
          alt={`${earlier.number}, earlier`}
          width={earlier.width_px}
          height={earlier.height_px}
        />
        <div class={is_under ? 'compare-over away' : 'compare-over'} ref={over}>
          <img ref={laid} src={now} alt={`${here.number}, now`} />
        </div>
        {mode === 'slide' && <div class="compare-line" ref={line} />}
        <span class="detail-heading">{headingOf(comparing, earlier, here)}</span>
      </div>
    </div>
  );
}

function headingOf({ mode, shown }: Comparing, earlier: ViewPicture, here: ViewPicture): string {
  if (mode === 'slide') return `${dayOf(earlier)} ◄ ► ${dayOf(here)}`;
  return shown === 'earlier' ? `earlier, ${dayOf(earlier)}` : `now, ${dayOf(here)}`;
}

function Beside({ earlier, here, old, now }: Shown) {
  const both = [
    { picture: earlier, src: old, name: 'earlier' },
    { picture: here, src: now, name: 'now' },
  ];
  return (
    <div class="compare-beside">
      {both.map(({ picture, src, name }) => (
        <DetailPicture
          key={picture.record}
          src={src}
          alt={`${picture.number}, ${name}`}
          width_px={picture.width_px}
          height_px={picture.height_px}
          mirrored={picture.mirrored}
          heading={`${name}, ${dayOf(picture)}`}
          caption={[picture.number, picture.role, picture.light && `lamp from ${picture.light}`]
            .filter(Boolean)
            .join(' · ')}
          eager
        />
      ))}
    </div>
  );
}

/** The slider: by touch, by the arrow keys, and by the keys beside it. */
export function ShareSlider({ comparing }: { comparing: Comparing }) {
  return (
    <label class="compare-slider">
      <span>Earlier picture from the left</span>
      <input
        type="range"
        min={0}
        max={100}
        step={1}
        value={comparing.share}
        onInput={(event) => comparing.setShare(Number(event.currentTarget.value))}
      />
      <output>{`${comparing.share} %`}</output>
    </label>
  );
}

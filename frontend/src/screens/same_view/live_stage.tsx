import { ErrorFrame, Key, Loading } from '../../furniture';
import type { Shop } from '../../services/shop';
import { Ghost, type Strength } from './ghost';
import { grabSize, type Stream } from './stream';
import { dayOf, type ViewPicture } from './view_pictures';

export interface LiveStageProps {
  shop: Shop;
  stream: Stream;
  mirrored: boolean;
  /** The earlier picture over the view. */
  ghost: ViewPicture | null;
  strength: Strength;
  /** Number of the record that is photographed. */
  number: string;
}

/** What the camera sees, an earlier picture over it, and how fine the picture kept will be. */
export function LiveStage(props: LiveStageProps) {
  const { shop, stream, mirrored, ghost, strength, number } = props;
  return (
    <div class={stream.refused ? 'live-room spoken' : 'live-room'}>
      <div class="live-stage">
        <video
          ref={stream.video}
          class={mirrored ? 'mirrored' : ''}
          muted
          playsInline
          aria-label="What the camera sees"
        />
        {!stream.size && !stream.refused && <Loading what="The camera" />}
        {ghost && <Ghost shop={shop} picture={ghost} strength={strength} />}
      </div>
      {ghost && <p class="live-over">{overWords(ghost, strength, number)}</p>}
      <p class="live-over">{sizeWords(stream.size)}</p>
    </div>
  );
}

/** Why there is no live view, and the camera that there is. */
export function NoLiveView(props: { stream: Stream; onFile: () => void }) {
  const { stream, onFile } = props;
  return (
    <ErrorFrame title="No live view" text={`${stream.refused} ${STORED}`}>
      <Key label={'SYSTEM’S\nCAMERA'} kind="main" onPress={onFile} />
      <Key label="TRY AGAIN" onPress={stream.again} />
    </ErrorFrame>
  );
}

const STORED = 'The record and its place are stored. Take the picture with the system’s camera.';

/** "Video frame 1600 × 1200 px; SYSTEM’S CAMERA takes the full picture." */
export function sizeWords(size: Stream['size']): string {
  if (!size) return '';
  return `Video frame ${grabSize(...size).join(' × ')} px; SYSTEM’S CAMERA takes the full picture.`;
}

function overWords(ghost: ViewPicture, strength: Strength, number: string): string {
  const what = ghost.number === number ? `${ghost.role} picture` : `${ghost.number}, ${ghost.role}`;
  const how = { none: 'not shown', outline: 'as an outline' }[String(strength)] ?? `${strength} %`;
  const lamp = ghost.light ? `, lamp from ${ghost.light}` : '';
  return `Over it: ${what} of ${dayOf(ghost) || 'a day not known'}${lamp}, ${how}`;
}

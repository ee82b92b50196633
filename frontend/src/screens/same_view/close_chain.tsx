import { Key, KeyRow } from '../../furniture';
import type { ViewPicture } from './view_pictures';

const REASONS = ['plate renewed', 'part taken off', 'repaired over'];

/** Says that no later picture repeats this view, and why; or takes that back. */
export function CloseChain(props: {
  picture: ViewPicture;
  onClose: (closed: boolean, why: string) => void;
  onLeave: () => void;
}) {
  const { picture, onClose, onLeave } = props;
  return (
    <section class="close-chain" aria-label="Last picture of this view">
      <p>
        {picture.closed
          ? `This is the last picture of its view: ${picture.closed_why ?? 'no reason'}.`
          : 'The metal seen here is gone, so no later picture shows the same. Why?'}
      </p>
      <KeyRow label="Why">
        {picture.closed ? (
          <Key
            label="OPEN AGAIN"
            second="it was an error"
            onPress={() => onClose(false, 'closed in error')}
          />
        ) : (
          REASONS.map((why) => (
            <Key key={why} label={why.toUpperCase()} onPress={() => onClose(true, why)} />
          ))
        )}
        <Key label="LEAVE IT" onPress={onLeave} />
      </KeyRow>
    </section>
  );
}

import { useState } from 'preact/hooks';
import { Key, Question } from '../../furniture';
import type { Shop } from '../../services/shop';
import { TextField } from '../frame/fields';

/** The file of a tablet that was lost or ended: a lead says why it is taken in all the same. */
export function LostQuestion(props: {
  shop: Shop;
  why: string;
  onReason: (reason: string) => void;
  onBack: () => void;
}) {
  const [reason, setReason] = useState('');
  const isLead = props.shop.session?.role === 'lead';
  return (
    <Question
      title="Take it in all the same?"
      text={`${props.why} The signature is that tablet’s own. The reason stays in the book.`}
      keys={
        <>
          <Key
            label="TAKE IT IN"
            kind="main"
            unavailable={!isLead ? 'for a lead' : reason.trim() ? undefined : 'write the reason'}
            onPress={() => props.onReason(reason)}
          />
          <Key label="LEAVE IT" onPress={props.onBack} />
        </>
      }
    >
      <TextField label="Reason: found again, …" value={reason} onText={setReason} />
    </Question>
  );
}

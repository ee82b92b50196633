import { useState } from 'preact/hooks';
import { Key, KeyRow, Sheet, TitleBlock } from '../../furniture';
import type { ScreenProps } from '../../services/shop';
import { useAirframeTitle } from '../frame/title';
import { TroubleNote, useTrouble } from '../frame/trouble';
import '../frame/field.css';
import '../frame/form.css';

/** Makes this browser a tablet with a letter, or a desk without one. */
export default function Enrol({ shop, go }: ScreenProps) {
  const [code, setCode] = useState('');
  const { trouble, busy, run } = useTrouble();
  const title = useAirframeTitle(shop);
  const enrol = () =>
    run(async () => {
      await shop.enrolment.enrol(code);
      await shop.exchange.sendNow();
      go(shop.session ? '/airframe' : '/', 'replace');
    });
  const enrolDesk = () =>
    run(async () => {
      await shop.enrolment.enrolDesk();
      await shop.exchange.sendNow();
      // A book that is new has no airframe to show defects of.
      const airframes = await shop.places.airframes();
      go(airframes.length > 0 ? '/defects' : '/airframes', 'replace');
    });
  const missing = code.trim() === '' ? 'type the code' : undefined;
  const waiting = busy ? 'a moment …' : undefined;
  return (
    <Sheet layout="airframe" title={<TitleBlock variant="airframe" cells={title} />}>
      <form
        class="form-sheet"
        onSubmit={(event) => {
          event.preventDefault();
          if (!missing && !waiting) enrol();
        }}
      >
        <h1>Enrol this browser</h1>
        <p>
          The lead’s screen gives a code once for each tablet. The tablet gets a letter that starts
          its record numbers, and a key of its own that never leaves it.
        </p>
        <label class="field large code">
          <span>One-time code</span>
          <input
            name="code"
            autocomplete="off"
            autocapitalize="characters"
            spellcheck={false}
            value={code}
            onInput={(event) => setCode(event.currentTarget.value)}
          />
        </label>
        <TroubleNote trouble={trouble} />
        <Key
          type="submit"
          label="ENROL AS A TABLET"
          kind="main"
          letters={28}
          unavailable={missing ?? waiting}
        />
        <h2>At a desk</h2>
        <p>A desk has no letter and gives no numbers. Its person signs in first.</p>
        <KeyRow>
          <Key
            label="USE AS A DESK"
            second={shop.session ? `as ${shop.session.name}` : undefined}
            unavailable={shop.session?.online ? waiting : 'sign in first'}
            onPress={enrolDesk}
          />
          <Key label="BACK" second="to the names" onPress={() => go('/')} />
        </KeyRow>
      </form>
    </Sheet>
  );
}

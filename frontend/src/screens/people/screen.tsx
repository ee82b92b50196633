import { useState } from 'preact/hooks';
import { ErrorFrame, Key, Loading, Sheet, TitleBlock } from '../../furniture';
import type { ScreenProps, Shop } from '../../services/shop';
import { useServerAnswer } from '../frame/asked_server';
import { SendKey } from '../frame/send_key';
import { useDeskTitle } from '../frame/title';
import { useTrouble } from '../frame/trouble';
import { CountedIndex } from '../questions/counted_index';
import { Devices } from './devices';
import { People } from './people';
import { readRegister, whyNot } from './register';
import './screen.css';

/** Who may do what, and which devices are let in. */
export default function PeopleAndDevices({ shop, go }: ScreenProps) {
  const title = useDeskTitle(shop, 'People');
  const { answer: register, failed, again } = useServerAnswer(shop, readRegister);
  const change = async () => {
    await again();
    // What was written at the server comes to this browser's own book at once.
    void shop.exchange.sendNow();
  };
  return (
    <Sheet
      layout="desk"
      top={<CountedIndex at="/people" {...{ shop, go }} />}
      legend={<SendKey shop={shop} size="small" />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      <div class="people">
        {failed && (
          <ErrorFrame title={failed.what} text={failed.todo}>
            <Key label="ASK AGAIN" onPress={() => void again()} />
          </ErrorFrame>
        )}
        {!register && !failed && <Loading what="People and devices" />}
        {register && <People shop={shop} people={register.people} onChanged={change} />}
        {register && <Devices shop={shop} register={register} onChanged={change} />}
        <BookIn go={go} />
        <OneMoreTablet shop={shop} />
        <StickFiles go={go} />
      </div>
    </Sheet>
  );
}

/** The way to the register of tablets. */
function BookIn({ go }: Pick<ScreenProps, 'go'>) {
  return (
    <section class="people-code">
      <h2>Register of tablets</h2>
      <Key
        label="TABLETS"
        second="numbers, what waits, what wants doing"
        onPress={() => go('/tablets')}
      />
    </section>
  );
}

/** The way to what tablets wrote because they could not reach the server. */
function StickFiles({ go }: Pick<ScreenProps, 'go'>) {
  return (
    <section class="people-code">
      <h2>A tablet that can’t reach the server</h2>
      <Key label="TAKE IN A FILE" second="from a memory stick" onPress={() => go('/take-in')} />
    </section>
  );
}

/** The lead's one-time code for one more tablet. */
function OneMoreTablet({ shop }: { shop: Shop }) {
  const [code, setCode] = useState<string | null>(null);
  const { trouble, busy, run } = useTrouble();
  if (shop.session?.role !== 'lead') return null;
  return (
    <section class="people-code">
      <h2>One more tablet, or one enrolled again</h2>
      <p>
        The code is good once, for half an hour, and is typed on the tablet itself. Passcodes of six
        figures keep honest people honest: lock the tablets themselves as well.
      </p>
      {trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />}
      {code && <output class="people-code-letters">{code}</output>}
      <Key
        label="GIVE A CODE"
        unavailable={busy ? 'a moment …' : whyNot(shop)}
        onPress={() => run(async () => setCode(await shop.enrolment.code()))}
      />
    </section>
  );
}

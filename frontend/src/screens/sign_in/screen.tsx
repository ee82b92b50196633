import { useState } from 'preact/hooks';
import { ErrorFrame, Key, KeyRow, Sheet, TitleBlock, ViewFrame } from '../../furniture';
import type { PersonListed, ScreenProps } from '../../services/shop';
import { DrawnView } from '../frame/drawn_view';
import { useLight } from '../frame/light';
import { PasscodePad } from '../frame/passcode';
import { useAirframeTitle } from '../frame/title';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { UnsentAge } from '../frame/unsent_age';
import { roleWords } from '../frame/words';
import { FirstSteps } from './first_steps';
import { usePeople } from './people';
import './screen.css';

/** Who are you: a name, then a passcode; works with no network on an enrolled tablet. */
export default function SignIn({ shop, go }: ScreenProps) {
  const [person, setPerson] = useState<PersonListed | null>(null);
  const [passcode, setPasscode] = useState('');
  const { trouble, busy, run, setTrouble } = useTrouble();
  const people = usePeople(shop);
  const title = useAirframeTitle(shop);
  const back = () => {
    setPerson(null);
    setPasscode('');
    setTrouble(null);
  };
  const done = () =>
    run(async () => {
      if (!person) return;
      setPasscode('');
      const session = await shop.people.unlock(person.person, passcode);
      const last = shop.device ? await shop.places.address(session) : null;
      go(nextAddress(shop.device !== null, shop.device?.letter ?? null, last));
    });
  return (
    <Sheet
      layout="airframe"
      title={<TitleBlock variant="airframe" cells={title} />}
      keys={
        person ? (
          <PasscodePad
            label="SIGN IN"
            second={person.name}
            value={passcode}
            busy={busy}
            onChange={setPasscode}
            onDone={done}
            onBack={back}
            back="another name"
          />
        ) : (
          <Names people={people} onPick={setPerson} />
        )
      }
    >
      <div class={person ? 'sign-in typing' : 'sign-in'}>
        <h1>Skinpin</h1>
        <p class="sign-in-what">The defect book of this workshop</p>
        <h2>
          {person ? `${person.name}, ${roleWords(person.role) || 'no role now'}` : 'Who are you?'}
        </h2>
        <TroubleNote trouble={trouble} />
        {!trouble && <Notices shop={shop} go={go} />}
        {!trouble && shop.device && <UnsentAge shop={shop} />}
        {!person && <FirstSteps shop={shop} go={go} people={people} />}
        <LightKey />
        <OurAirframe shop={shop} />
      </div>
    </Sheet>
  );
}

/** A tablet goes back to where its person was; a desk to the defect book; else enrolment. */
function nextAddress(enrolled: boolean, letter: string | null, last: string | null): string {
  if (!enrolled) return '/enrol';
  return last ?? (letter ? '/airframe' : '/defects');
}

/** Why the last session ended by itself, and why the server lets this device in no more. */
function Notices({ shop, go }: Pick<ScreenProps, 'shop' | 'go'>) {
  const { ended } = shop.people;
  const shut = shop.device ? shop.exchange.state.shut : null;
  return (
    <>
      {ended && <ErrorFrame title={ended.message} text={ended.hint} />}
      {shut && (
        <ErrorFrame title={shut.message} text={shut.hint}>
          <Key label="ENROL AGAIN" onPress={() => go('/enrol')} />
        </ErrorFrame>
      )}
    </>
  );
}

/** The airframe this browser works on, drawn. */
function OurAirframe({ shop }: Pick<ScreenProps, 'shop'>) {
  const { airframe, definition } = shop;
  const drawn = definition?.views.filter((one) => one.lines);
  const view = drawn?.find((one) => one.name.includes('profile')) ?? drawn?.[0];
  if (!airframe || !view) return null;
  const name = `${airframe.type} · ${airframe.constructor_number}`;
  return (
    <ViewFrame title={`${name}, ${view.title}`} fwd="left">
      <DrawnView view={view} point={null} spoken={name} />
    </ViewFrame>
  );
}

function Names(props: {
  people: PersonListed[] | undefined;
  onPick: (person: PersonListed) => void;
}) {
  const { people } = props;
  if (!people) return <p class="names-none">Fetching the names …</p>;
  if (people.length === 0) return <p class="names-none">No names are here yet.</p>;
  return (
    <KeyRow label="Names">
      {people.map((person) => (
        <Key
          key={person.person}
          place="name-key"
          label={person.name}
          second={nameWords(person)}
          onPress={() => props.onPick(person)}
        />
      ))}
    </KeyRow>
  );
}

/** Stamp number or role, under a name. */
function nameWords({ role, stamp_number }: PersonListed): string {
  if (!role) return 'no role now';
  return stamp_number ? `stamp ${stamp_number}` : roleWords(role);
}

function LightKey() {
  const [light, change] = useLight();
  return (
    <p class="light-key">
      <Key
        label={light === 'inside' ? 'LIGHT: INSIDE' : 'LIGHT: OUTSIDE'}
        second={light === 'inside' ? 'change to sun and shop' : 'change to dark, in the structure'}
        onPress={change}
      />
    </p>
  );
}

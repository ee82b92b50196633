import { useState } from 'preact/hooks';
import { ErrorFrame, Key, KeyRow, Question } from '../../furniture';
import type { Shop } from '../../services/shop';
import { TextField } from '../frame/fields';
import { useTrouble } from '../frame/trouble';
import { roleWords } from '../frame/words';
import { Opened } from './fields';
import { heldWords, type PersonRow } from './register';

interface FormProps {
  shop: Shop;
  onBack: () => void;
  onDone: () => Promise<void>;
}

const ROLES = ['inspector', 'lead', 'clerk', 'fitter', 'bench_fitter', 'design_authority'];
const LEAST = 6;

/** Gives a person another role, or withdraws the one held; both with a reason. */
export function RoleForm({ shop, person, onBack, onDone }: FormProps & { person: PersonRow }) {
  const [role, setRole] = useState<string | null>(null);
  const [reason, setReason] = useState('');
  const { trouble, busy, run } = useTrouble();
  const change = (to: string | null) =>
    run(async () => {
      const path = `/api/people/${encodeURIComponent(person.person)}/role`;
      await shop.api.post(path, { role: to, reason });
      await onDone();
    });
  const wait = busy ? 'a moment …' : undefined;
  const lacks = reason.trim() === '' ? 'write the reason' : undefined;
  const choose = role === null ? 'choose a role' : undefined;
  return (
    <Question
      title={`Role of ${person.name}: ${heldWords(person.role)}`}
      text={`What ${person.name} recorded and decided so far stays good. Who has no role is signed out at once and can’t sign in.`}
      keys={
        <>
          <Key
            label="GIVE ROLE"
            kind="main"
            second={role ? roleWords(role) : undefined}
            unavailable={wait ?? choose ?? lacks}
            onPress={() => change(role)}
          />
          {person.role && (
            <Key
              label="WITHDRAW ROLE"
              kind="undo"
              second={roleWords(person.role)}
              unavailable={wait ?? lacks}
              onPress={() => change(null)}
            />
          )}
          <Key label="BACK" onPress={onBack} />
        </>
      }
    >
      <Opened>
        <RoleKeys chosen={role} held={person.role} onChoose={setRole} />
        <TextField label="Reason" value={reason} onText={setReason} />
        {trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />}
      </Opened>
    </Question>
  );
}

/** A new person: name, role, stamp number and first passcode. */
export function NewPerson({ shop, onBack, onDone }: FormProps) {
  const [given, setGiven] = useState({ name: '', stamp_number: '', passcode: '' });
  const [role, setRole] = useState<string | null>(null);
  const { trouble, busy, run } = useTrouble();
  const set = (field: keyof typeof given) => (text: string) =>
    setGiven({ ...given, [field]: text });
  const lacks =
    (given.name.trim() === '' && 'write the name') ||
    (role === null && 'choose a role') ||
    (given.passcode.length < LEAST && 'the passcode has six figures or more') ||
    undefined;
  const write = () =>
    run(async () => {
      await shop.api.post('/api/people', { ...given, role });
      await onDone();
    });
  return (
    <Question
      title="New person"
      text="The person can sign in on a tablet once it has met the server."
      keys={
        <>
          <Key
            label="WRITE INTO THE BOOK"
            kind="main"
            unavailable={busy ? 'a moment …' : lacks}
            onPress={write}
          />
          <Key label="BACK" onPress={onBack} />
        </>
      }
    >
      <Opened>
        <TextField label="Name or initials" value={given.name} onText={set('name')} />
        <RoleKeys chosen={role} held={null} onChoose={setRole} />
        <TextField
          label="Stamp number, where one is held"
          value={given.stamp_number}
          onText={set('stamp_number')}
        />
        <TextField
          label="First passcode, six figures or more"
          type="password"
          value={given.passcode}
          onText={set('passcode')}
        />
        {trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />}
      </Opened>
    </Question>
  );
}

/** A new passcode for somebody who has forgotten it. */
export function PasscodeForm({ shop, person, onBack, onDone }: FormProps & { person: PersonRow }) {
  const [passcode, setPasscode] = useState('');
  const { trouble, busy, run } = useTrouble();
  const lacks = passcode.length < LEAST ? 'six figures or more' : undefined;
  const write = () =>
    run(async () => {
      await shop.api.put(`/api/people/${encodeURIComponent(person.person)}/passcode`, { passcode });
      await onDone();
    });
  return (
    <Question
      title={`New passcode for ${person.name}`}
      text={`It holds from now on; ${person.name} is signed out of the server. Tablets learn it when they meet the server.`}
      keys={
        <>
          <Key
            label="SET THE PASSCODE"
            kind="main"
            unavailable={busy ? 'a moment …' : lacks}
            onPress={write}
          />
          <Key label="BACK" onPress={onBack} />
        </>
      }
    >
      <Opened>
        <TextField label="Passcode" type="password" value={passcode} onText={setPasscode} />
        {trouble && <ErrorFrame title={trouble.what} text={trouble.todo} />}
      </Opened>
    </Question>
  );
}

function RoleKeys(props: {
  chosen: string | null;
  held: string | null;
  onChoose: (role: string) => void;
}) {
  return (
    <KeyRow label="Role" apart="desk">
      {ROLES.filter((role) => role !== props.held).map((role) => (
        <Key
          key={role}
          label={roleWords(role)}
          chosen={role === props.chosen}
          onPress={() => props.onChoose(role)}
        />
      ))}
    </KeyRow>
  );
}

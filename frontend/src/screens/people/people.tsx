import { useState } from 'preact/hooks';
import { DeskKey } from '../../furniture';
import type { Shop } from '../../services/shop';
import { NewPerson, PasscodeForm, RoleForm } from './person_forms';
import { heldWords, type PersonRow, whyNot } from './register';

interface Props {
  shop: Shop;
  people: PersonRow[];
  onChanged: () => Promise<void>;
}

/** What is being done: a form about one person, or for a new one. */
type Open = { about: 'role' | 'passcode'; person: PersonRow } | { about: 'new' } | null;

/** Everybody of the book with role and stamp number. */
export function People({ shop, people, onChanged }: Props) {
  const [open, setOpen] = useState<Open>(null);
  const refused = whyNot(shop);
  const close = () => setOpen(null);
  const done = async () => {
    setOpen(null);
    await onChanged();
  };
  const form = { shop, onBack: close, onDone: done };
  return (
    <section class="people-part">
      <div class="people-head">
        <h1>People</h1>
        {refused ? (
          <p>Roles and passcodes are changed at the server: {refused}.</p>
        ) : (
          <DeskKey label="NEW PERSON" onPress={() => setOpen({ about: 'new' })} />
        )}
      </div>
      {open?.about === 'new' && <NewPerson {...form} />}
      {open?.about === 'role' && (
        <RoleForm key={open.person.person} {...form} person={open.person} />
      )}
      {open?.about === 'passcode' && (
        <PasscodeForm key={open.person.person} {...form} person={open.person} />
      )}
      <table class="people-table people-names">
        <thead>
          <tr>
            <th scope="col">Name</th>
            <th scope="col">Stamp</th>
            <th scope="col">Role</th>
            <th scope="col">
              <span class="spoken">Keys</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {people.map((one) => (
            <tr key={one.person} class={one.role ? '' : 'people-out'}>
              <th scope="row">{one.name}</th>
              <td>
                {one.stamp_number ? <span class="people-stamp">{one.stamp_number}</span> : 'none'}
              </td>
              <td>{heldWords(one.role)}</td>
              <td class="people-keys">{!refused && <PersonKeys {...{ one, setOpen }} />}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** The words on a key come first in its spoken name, so that who speaks to it can say them. */
function PersonKeys({ one, setOpen }: { one: PersonRow; setOpen: (open: Open) => void }) {
  const role = one.role ? 'ROLE' : 'GIVE ROLE';
  return (
    <>
      <DeskKey
        label={role}
        spoken={`${role} of ${one.name}`}
        onPress={() => setOpen({ about: 'role', person: one })}
      />
      <DeskKey
        label="NEW PASSCODE"
        spoken={`NEW PASSCODE for ${one.name}`}
        onPress={() => setOpen({ about: 'passcode', person: one })}
      />
    </>
  );
}

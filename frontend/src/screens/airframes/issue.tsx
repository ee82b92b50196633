import { useState } from 'preact/hooks';
import { announce, Key } from '../../furniture';
import { issueDefinition } from '../../services/airframes';
import { TroubleNote, useTrouble } from '../frame/trouble';
import type { PartProps } from './described';
import { whyNot } from './list';
import { counted, partAddress } from './parts';
import { SetLine } from './set_line';

/** The issue: its number, the reason, and the records that are described anew by it. */
export function Issue(props: PartProps) {
  const { draft, found, shop, checked } = props;
  const [reason, setReason] = useState('');
  const { trouble, busy, run } = useTrouble();
  const { description } = draft;
  const unavailable = busy ? 'a moment …' : (whyNot(shop) ?? notYet(props, reason));
  const issue = () =>
    run(async () => {
      const defined = checked.defined;
      if (!defined) return;
      const record = await issueDefinition(
        ...([shop.api, defined.definition, found?.record ?? null, reason.trim()] as const),
      );
      await draft.done();
      await shop.exchange.sendNow();
      if (!found && record) await shop.places.chooseAirframe(record);
      announce(`Issue ${description.issue} is in the book.`);
      await props.onIssued();
      props.go(partAddress(description.constructor_number, 'about'), 'replace');
    });
  return (
    <>
      <div class="set-lines">
        <SetLine
          label="Issue"
          value={description.issue}
          narrow
          onText={(text) => draft.set({ issue: text })}
        />
        {found && (
          <SetLine
            label="Reason of this issue"
            example="F6N found behind the floor"
            value={reason}
            onText={setReason}
            onEnter={() => unavailable === undefined && void issue()}
          />
        )}
      </div>
      <MovedRecords {...props} />
      <Key
        label={found ? `ISSUE ${description.issue}` : 'PUT THE AIRFRAME IN THE BOOK'}
        kind="main"
        letters={24}
        second={found ? `in place of issue ${found.definition?.issue ?? '–'}` : undefined}
        unavailable={unavailable}
        onPress={() => void issue()}
      />
      <TroubleNote trouble={trouble} />
      {draft.is_draft && (
        <Key
          label={found ? 'THROW THE DRAFT AWAY' : 'BEGIN ANEW'}
          second="UNDO brings it back"
          onPress={draft.discard}
        />
      )}
    </>
  );
}

function notYet(
  { draft, found, troubles, checked }: PartProps,
  reason: string,
): string | undefined {
  const wrong = troubles.filter((one) => !one.said).length;
  if (wrong > 0) return `${counted(wrong, 'trouble')} to mend`;
  if (checked.waiting) return 'being checked …';
  if (checked.away) return 'not checked';
  if (found && !draft.is_draft) return 'nothing is changed';
  if (found && reason.trim() === '') return 'a reason is missing';
  return undefined;
}

/** The parts of a place that read differently, first: "F6 + 15.0 aft", then the whole. */
function differing(words: string, other: string) {
  const others = other.split(' · ');
  const own = words.split(' · ').filter((part) => !others.includes(part));
  return (
    <>
      <b>{own.join(' · ') || words}</b>
      <br />
      <span class="second-ink">{words}</span>
    </>
  );
}

/** Nobody’s place on the metal changes; only the words for it do. */
function MovedRecords({ checked, found }: PartProps) {
  if (!found || !checked.checked) return null;
  const { moved } = checked.checked;
  return (
    <section class="moved-records">
      <h2>
        {moved.length > 0
          ? `${counted(moved.length, 'record')} described anew, none moved`
          : 'No record is described anew'}
      </h2>
      {moved.length > 0 && (
        <table>
          <thead>
            <tr>
              <th>Record</th>
              <th>Entered as</th>
              <th>Read now as</th>
            </tr>
          </thead>
          <tbody>
            {moved.map(({ number, entered, now }) => (
              <tr key={number}>
                <th scope="row">{number}</th>
                <td>{differing(entered, now)}</td>
                <td>→ {differing(now, entered)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}

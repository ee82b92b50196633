import { useState } from 'preact/hooks';
import { announce, DeskKey, Key, SAFETY_FULL } from '../../furniture';
import type { Shop } from '../../services/shop';
import { issueStandard, type StandardFile, type StandardListed } from '../../services/standards';
import { TextField } from '../frame/fields';
import { TroubleNote, useTrouble } from '../frame/trouble';
import type { Draft, Standing, Told } from './draft';

interface IssueProps {
  shop: Shop;
  standing: Standing;
  draft: Draft;
  told: Told;
  onIssued: () => Promise<void>;
}

/** The next issue: its number and reason, what stands in its way, and the issues before. */
export function Issue(props: IssueProps) {
  const { shop, standing, draft, told } = props;
  const [reason, setReason] = useState('');
  const { trouble, busy, run } = useTrouble();
  const { made } = draft;
  const unavailable = busy ? 'a moment …' : notYet(props, reason);
  const issue = () =>
    run(async () => {
      await issueStandard(shop.api, made, reason.trim());
      draft.discard();
      setReason('');
      await shop.exchange.sendNow();
      announce(`${made.name} issue ${made.issue} is in the book.`);
      await props.onIssued();
    });
  return (
    <aside class="standard-issue">
      <h2>{headWords(told, draft)}</h2>
      <Troubles {...told} />
      {whyNot(shop) === undefined && (
        <>
          <TextField
            label="Name"
            value={made.name}
            onText={(name) => draft.set({ ...made, name })}
          />
          <TextField
            label="Issue"
            value={made.issue}
            onText={(text) => draft.set({ ...made, issue: text })}
          />
          <TextField label="Reason of this issue" value={reason} onText={setReason} />
          <Key
            label={`GIVE ISSUE ${made.issue}`}
            kind="main"
            letters={24}
            second="no record changes until it is graded again"
            unavailable={unavailable}
            onPress={() => void issue()}
          />
          <TroubleNote trouble={trouble} />
          {draft.is_draft && <DeskKey label="THROW THE DRAFT AWAY" onPress={draft.discard} />}
          <ReadIn {...{ draft }} />
        </>
      )}
      <Issues {...{ shop }} listed={standing.listed} />
      <p class="standard-safety">{SAFETY_FULL}</p>
    </aside>
  );
}

/** Why this person can't give an issue here. */
export function whyNot(shop: Shop): string | undefined {
  if (shop.session?.role !== 'lead') return 'a lead gives it';
  return shop.session.online ? undefined : 'no server';
}

function notYet({ draft, told }: IssueProps, reason: string): string | undefined {
  if (!draft.is_draft) return 'nothing is changed';
  if (told.troubles.length > 0) return `${told.troubles.length} to mend`;
  if (told.waiting) return 'being checked …';
  if (told.away) return 'not checked';
  return reason.trim() === '' ? 'a reason is missing' : undefined;
}

function headWords({ troubles, waiting, away }: Told, { is_draft }: Draft): string {
  if (!is_draft) return 'The next issue';
  if (troubles.length > 0) return `${troubles.length} to mend before the issue`;
  if (waiting) return 'Being checked …';
  return away ? 'Not checked' : 'Nothing stands in the way';
}

function Troubles({ troubles, away }: Told) {
  return (
    <>
      {away && (
        <p>
          <b>Not checked.</b> {away} The draft is kept in this browser.
        </p>
      )}
      <ol class="standard-troubles">
        {troubles.map(({ at, message, hint }) => (
          <li key={`${at}${message}`}>
            {message} <span class="second-ink">{hint}</span>
          </li>
        ))}
      </ol>
    </>
  );
}

/** A file becomes the draft: nothing is in the book before it is issued. */
function ReadIn({ draft }: { draft: Draft }) {
  const [problem, setProblem] = useState<string | null>(null);
  const read = async (file: File | undefined) => {
    if (!file) return;
    try {
      const made = JSON.parse(await file.text()) as StandardFile;
      if (!Array.isArray(made.rows)) throw new TypeError('rows');
      draft.set(made);
      setProblem(null);
    } catch {
      setProblem(`${file.name} is no standard of acceptance.`);
    }
  };
  return (
    <div class="standard-file">
      <label class="standard-file-label">
        <span>The file of a standard (JSON), to be looked through and issued</span>
        <input
          type="file"
          accept="application/json,.json"
          onChange={(event) => void read(event.currentTarget.files?.[0])}
        />
      </label>
      {problem && <p role="alert">{problem}</p>}
    </div>
  );
}

function Issues({ shop, listed }: { shop: Shop; listed: readonly StandardListed[] }) {
  const { trouble, busy, run } = useTrouble();
  if (listed.length === 0) return null;
  return (
    <>
      <h2>In the book</h2>
      <ul class="standard-issues">
        {listed.map((one, at) => (
          <li key={one.record}>
            <b>
              {one.name} issue {one.issue}
            </b>
            {at === 0 ? ' stands' : ''}
            <DeskKey
              label="SAVE ITS FILE"
              spoken={`Save its file: ${one.name} issue ${one.issue}`}
              unavailable={busy ? 'a moment …' : undefined}
              onPress={() => run(() => saveFile(shop, one))}
            />
          </li>
        ))}
      </ul>
      <TroubleNote trouble={trouble} />
    </>
  );
}

async function saveFile(shop: Shop, one: StandardListed) {
  const url = URL.createObjectURL(await shop.api.document(`/api/standards/${one.record}.json`));
  const link = document.createElement('a');
  link.href = url;
  link.download = `standard-${one.name}-issue-${one.issue}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

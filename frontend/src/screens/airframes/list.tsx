import { useState } from 'preact/hooks';
import { announce, DeskKey, Empty, ErrorFrame, Key, Loading, SAFETY_FULL } from '../../furniture';
import { describe } from '../../services/airframe_definition';
import type { AirframeListed } from '../../services/airframes';
import type { Definition, Json, ScreenProps, Shop } from '../../services/shop';
import { TroubleNote, useTrouble } from '../frame/trouble';
import { useLive } from '../live';
import { draftName } from './draft';
import { partAddress } from './parts';

interface ListProps {
  shop: Shop;
  go: ScreenProps['go'];
  listed: AirframeListed[] | null;
  problem: string | null;
}

/** Every airframe of the book with its issues; one of them is the one that this browser shows. */
export function AirframeList({ shop, go, listed, problem }: ListProps) {
  if (!listed) return <Loading what="The airframes" />;
  return (
    <div class="airframes">
      <section class="airframes-list">
        <h1>Airframes</h1>
        {problem && (
          <ErrorFrame title={problem} text="One may be chosen; none can be described now." />
        )}
        {listed.length === 0 && (
          <Empty title="No airframe in the book yet" looked_at>
            Describe the first one, or read its file in.
          </Empty>
        )}
        {listed.map((one) => (
          <AirframeLine key={one.record} {...{ shop, go, one }} />
        ))}
      </section>
      <aside class="airframes-new">
        <h2>Another airframe</h2>
        <Key
          label="DESCRIBE AN AIRFRAME"
          kind="main"
          letters={24}
          second="structures, members, zones"
          unavailable={whyNot(shop)}
          onPress={() => go(partAddress('new', 'about'))}
        />
        <ReadIn {...{ shop, go, listed }} />
        <h2>Standard of acceptance</h2>
        <DeskKey
          label={standardWords(shop)}
          spoken={`Standard of acceptance: ${standardWords(shop)}`}
          onPress={() => go('/standards')}
        />
        <p class="airframes-safety">{SAFETY_FULL}</p>
      </aside>
    </div>
  );
}

function standardWords({ standard }: Shop): string {
  return standard ? `${standard.name} ISSUE ${standard.issue}` : 'NONE YET';
}

function AirframeLine(props: { shop: Shop; go: ScreenProps['go']; one: AirframeListed }) {
  const { shop, go, one } = props;
  const { trouble, busy, run } = useTrouble();
  const issues = useLive(shop, () => shop.book.written(one.record, 'definition'), [one.record]);
  const records = useLive(shop, () => shop.book.defects(), []);
  const count = records?.filter((row) => row.airframe === one.record).length;
  const is_chosen = shop.airframe?.record === one.record;
  const choose = () =>
    run(async () => {
      await shop.places.chooseAirframe(one.record);
      announce(`${one.constructor} is shown on this browser now.`);
    });
  return (
    <article class={`airframe-line${is_chosen ? ' chosen' : ''}`}>
      <div class="airframe-name">
        <h2>{one.constructor}</h2>
        <p>
          {one.type}
          <br />
          {count === undefined ? '…' : `${count} ${count === 1 ? 'record' : 'records'}`}
        </p>
      </div>
      <div class="airframe-keys">
        <DeskKey
          label={is_chosen ? 'SHOWN HERE' : 'SHOW THIS ONE'}
          chosen={is_chosen}
          spoken={`${is_chosen ? 'Shown here' : 'Show this one'}: ${one.constructor}`}
          onPress={choose}
        />
        <DeskKey
          label="DESCRIPTION"
          spoken={`Description of ${one.constructor}`}
          unavailable={whyNot(shop)}
          onPress={() => go(partAddress(one.constructor || one.record, 'about'))}
        />
        <DeskKey
          label="SAVE ITS FILE"
          spoken={`Save its file: ${one.constructor}`}
          unavailable={busy ? 'a moment …' : shop.session?.online ? undefined : 'no server'}
          onPress={() => run(() => saveFile(shop, one))}
        />
      </div>
      <TroubleNote trouble={trouble} />
      <ol class="airframe-issues" aria-label={`Issues of ${one.constructor}`}>
        {[...(issues ?? [])].reverse().map(({ entry, date, value, why }) => (
          <li key={entry}>
            <b>issue {issueOf(value)}</b> {date}
            {why ? ` · ${why}` : ''}
          </li>
        ))}
      </ol>
    </article>
  );
}

function issueOf(value: Json): string {
  const { issue } = (value ?? {}) as { issue?: Json };
  return typeof issue === 'string' ? issue : '–';
}

async function saveFile(shop: Shop, one: AirframeListed) {
  const url = URL.createObjectURL(
    await shop.api.document(`/api/airframes/${one.record}/definition.json`),
  );
  const link = document.createElement('a');
  link.href = url;
  link.download = `airframe-${one.constructor}-issue-${one.definition?.issue ?? ''}.json`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

/** A definition file becomes a draft: nothing is in the book before it is issued. */
function ReadIn({
  shop,
  go,
  listed,
}: Omit<ListProps, 'problem' | 'listed'> & { listed: AirframeListed[] }) {
  const [problem, setProblem] = useState<string | null>(null);
  const read = async (file: File | undefined) => {
    if (!file || !shop.session) return;
    try {
      const definition = JSON.parse(await file.text()) as Definition;
      const description = describe(definition);
      const known = listed.find((one) => one.constructor === description.constructor_number);
      const name = known?.constructor ?? 'new';
      const kept = { description, base: known?.definition?.sha256 ?? null };
      await shop.drafts.write(shop.session, draftName(name), kept as unknown as Json);
      go(partAddress(name, 'issue'));
    } catch {
      setProblem(`${file.name} is no definition file.`);
    }
  };
  return (
    <div class="airframes-file">
      <label class="file-label">
        <span>The file of an airframe (JSON)</span>
        <input
          type="file"
          accept="application/json,.json"
          disabled={whyNot(shop) !== undefined}
          onChange={(event) => void read(event.currentTarget.files?.[0])}
        />
      </label>
      <p>It becomes a draft here. It is in the book once it is issued.</p>
      {problem && <ErrorFrame title={problem} text="Choose the file as saved from another book." />}
    </div>
  );
}

/** Who describes airframes, and when. */
export function whyNot(shop: Shop): string | undefined {
  if (shop.session?.role !== 'lead') return 'for a lead';
  return shop.session.online ? undefined : 'the server is not in reach';
}

import type { PartProps } from './described';
import { PART_WORDS, type PlacedTrouble, partAddress } from './parts';

const MOST = 40;
/** Reached by TAB, so that the arrow keys roll it. */
const SCROLLED = { tabIndex: 0 };
/** These are told as areas, in the list of the zones. */
const AREAS = ['no_zone', 'zones_overlap'];

/** What stands in the way of an issue, what is only said, and the zones in words. */
export function Troubles(props: PartProps) {
  const { troubles, checked } = props;
  const wrong = troubles.filter((one) => !one.said);
  const told = troubles.filter((one) => one.said);
  return (
    <aside class="part-troubles" aria-label="Troubles" {...SCROLLED}>
      <h2>{headWords(wrong.length, props)}</h2>
      {checked.away && (
        <p class="trouble-away">
          <b>Not checked.</b> {checked.away} The draft is kept in this browser.
        </p>
      )}
      <List {...props} some={wrong.filter(({ code }) => !AREAS.includes(code))} />
      <ZoneWords {...props} />
      {told.length > 0 && (
        <section class="trouble-said">
          <h2>{told.length} only said: in nobody’s way</h2>
          <List {...props} some={told} />
        </section>
      )}
    </aside>
  );
}

function headWords(wrong: number, { checked, draft, found }: PartProps): string {
  if (wrong > 0) return `${wrong} to mend before the issue`;
  if (checked.waiting) return 'Being checked …';
  if (checked.away) return 'Not checked';
  const issue = draft.is_draft ? null : found?.definition?.issue;
  return issue ? `Issue ${issue} is in the book` : 'Nothing stands in the way';
}

function List(props: PartProps & { some: readonly PlacedTrouble[] }) {
  const { some, draft, name } = props;
  if (some.length === 0) return null;
  const address = (one: PlacedTrouble) =>
    partAddress(
      name,
      one.part,
      draft.description.structures[one.structure ?? props.structure]?.name,
    );
  return (
    <ol class="trouble-list">
      {some.slice(0, MOST).map((one) => (
        <li key={`${one.part}${one.structure}${one.row}${one.column}${one.words}`}>
          <a
            href={address(one)}
            onClick={(event) => {
              if (event.ctrlKey || event.metaKey || event.shiftKey) return;
              event.preventDefault();
              props.onLead(one);
            }}
          >
            {whereWords(one, props)}
          </a>{' '}
          {one.words}
          {one.hint && <span class="second-ink"> {one.hint}</span>}
        </li>
      ))}
      {some.length > MOST && <li>and {some.length - MOST} more</li>}
    </ol>
  );
}

/** "Members, line 4" with the structure where there are several. */
function whereWords({ part, structure, row }: PlacedTrouble, { draft }: PartProps): string {
  const { structures } = draft.description;
  const named = structure !== null && structures.length > 1 ? structures[structure]?.name : '';
  const line = row === null ? '' : `line ${row + 1}`;
  return [named, PART_WORDS[part], line].filter(Boolean).join(', ');
}

/** The same that is hatched and crossed on the drawing, as a list. */
function ZoneWords({ checked }: PartProps) {
  const zones = checked.checked?.zones;
  if (!zones) return null;
  return (
    <>
      <Words title="No zone" some={zones.gaps} />
      <Words title="In two zones" some={zones.overlaps} />
    </>
  );
}

function Words({ title, some }: { title: string; some: readonly string[] }) {
  if (some.length === 0) return null;
  return (
    <>
      <h3>
        {title}: {some.length}
      </h3>
      <ol class="trouble-list zone-words">
        {some.slice(0, MOST).map((words) => (
          <li key={words}>{words}</li>
        ))}
        {some.length > MOST && <li>and {some.length - MOST} more</li>}
      </ol>
    </>
  );
}

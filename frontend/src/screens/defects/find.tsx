import type { RefObject } from 'preact';
import { DeskKey, KeyRow } from '../../furniture';
import { chosenFilters, type FilterGroup, toggled } from './find_words';
import { Rolling } from './rolling';
import { setShortcuts, shortcutsOn } from './shortcuts';

/** No question asked in place words is longer. */
export const MOST_LETTERS = 400;

/** The find line above the list, with how many it finds. */
export function FindLine(props: {
  words: string;
  onWords: (words: string) => void;
  /** Enter: the first of the list. */
  onFirst: () => void;
  onLeave: () => void;
  counted: string;
  show_filters: boolean;
  onFilters: () => void;
  input: RefObject<HTMLInputElement | null>;
}) {
  return (
    <search class="find">
      <label class="find-line">
        <span class="cap">Find: number, place, kind, grade, state</span>
        <input
          ref={props.input}
          type="search"
          name="find"
          autocomplete="off"
          spellcheck={false}
          maxLength={MOST_LETTERS}
          value={props.words}
          onInput={(event) => props.onWords(event.currentTarget.value)}
          onBlur={props.onLeave}
          onKeyDown={(event) => {
            if (event.key === 'Enter') props.onFirst();
            if (event.key === 'Escape' && !props.words) event.currentTarget.blur();
          }}
        />
      </label>
      <DeskKey
        label="Filters"
        chosen={props.show_filters}
        spoken="Filters, and how to find"
        onPress={props.onFilters}
      />
      <p aria-live="polite">{props.counted}</p>
    </search>
  );
}

/** Filters as keys, each of which writes its words into the find line, and what can be typed. */
export function FindSheet(props: {
  words: string;
  groups: FilterGroup[];
  onWords: (words: string) => void;
  onDone: () => void;
  found: number;
}) {
  const { words, groups } = props;
  const chosen = new Set(chosenFilters(words, groups));
  return (
    <Rolling label="Filters, and how to find" place="sheet-rolls">
      <article class="find-sheet">
        <header class="find-head">
          <div>
            <h1>Find</h1>
            <p>
              {words.trim() ? `“${words.trim()}” finds ${props.found}.` : 'Everything is listed.'} A
              key writes its words into the find line; all of them must hold.
            </p>
          </div>
          <KeyRow apart="desk">
            <DeskKey
              label="Clear the line"
              unavailable={words ? undefined : 'nothing in it'}
              onPress={() => props.onWords('')}
            />
            <DeskKey label="Back to the record" onPress={props.onDone} />
          </KeyRow>
        </header>
        {groups
          .filter(({ filters }) => filters.length > 0)
          .map((group) => (
            <section key={group.title} class="find-group" aria-label={group.title}>
              <h2 class="cap">{group.title}</h2>
              <KeyRow apart="desk">
                {group.filters.map((filter) => (
                  <DeskKey
                    key={filter.words}
                    label={filter.label}
                    chosen={chosen.has(filter)}
                    onPress={() => props.onWords(toggled(words, filter, groups))}
                  />
                ))}
              </KeyRow>
            </section>
          ))}
        <HowToFind />
      </article>
    </Rolling>
  );
}

const TYPED: readonly [typed: string, means: string][] = [
  ['A/0004, a0004', 'a record by its number, also one raised in error'],
  ['2603A0004 and its check character', 'a record by its tag'],
  ['F11, 12A', 'the bay that begins at a member'],
  ['F10-F13', 'from one member to another'],
  ['K-B1, B2', 'strakes'],
  ['P, port, left · S, starboard, right', 'a hand'],
  ['122, zone 122', 'a zone'],
  ['pitting, crack, corrosion', 'a kind, or a group of kinds'],
  ['grade 3, ≥3, >=3', 'a grade; at least 2 counts as 2'],
  ['open, raised, in work, deferred', 'a state; open is all that is not finished'],
  ['raised in error', 'what is otherwise left out'],
  ['stage 3', 'what blocks a stage'],
  ['Inspector 2', 'who raised it'],
  ['2025-09, 2025-03..2025-06', 'when it was raised: a day, month, year or from … to'],
  ['two values', 'where somebody must choose'],
  ['bilge', 'any other word: part, place, note, disposition, by its beginning'],
  ['"inner face"', 'words in quotation marks stay together'],
];

function HowToFind() {
  return (
    <section class="find-how">
      <h2>How to find</h2>
      <p>
        <b>F11 P crack</b> finds the crack at F11 port. The same words find the same records on
        every tablet and on the server.
      </p>
      <dl>
        {TYPED.map(([typed, means]) => (
          <div key={typed}>
            <dt>{typed}</dt>
            <dd>{means}</dd>
          </div>
        ))}
      </dl>
      <ShortcutsKey />
    </section>
  );
}

/** Single letters that act can be switched off, for those who speak or shake. */
function ShortcutsKey() {
  const is_on = shortcutsOn();
  return (
    <div class="find-shortcuts">
      <p>
        On the keyboard: <kbd>/</kbd> goes to the find line, <kbd>J</kbd> and <kbd>K</kbd> or the
        arrows to the next and the last record, <kbd>Enter</kbd> in the find line to the first
        found.
      </p>
      <KeyRow apart="desk" label="Letters that act">
        {[true, false].map((on) => (
          <DeskKey
            key={String(on)}
            label={on ? 'Letters act' : 'Letters off'}
            chosen={is_on === on}
            onPress={() => setShortcuts(on)}
          />
        ))}
      </KeyRow>
    </div>
  );
}

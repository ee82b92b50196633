import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';
import { Key } from './key.tsx';
import './strip.css';

export interface QuestionProps {
  /** "Same defect?" */
  title: string;
  /** What was seen: "B/0015 lies 0.5 in aft." */
  text?: string | undefined;
  /** Keys of the question. */
  keys?: ComponentChildren;
  /** Right of the keys: "Both numbers live on." */
  aside?: string | undefined;
  /** Figures and pictures, side by side. */
  children?: ComponentChildren;
}

/** A question in the sheet: panel with a 6 px ink bar and its own keys; never over the drawing. */
export function Question({ title, text, keys, aside, children }: QuestionProps) {
  const id = useId();
  return (
    <fieldset class="strip" aria-labelledby={id}>
      <div class="strip-head">
        <h2 id={id} class="strip-title">
          {title}
        </h2>
        {text !== undefined && <p class="strip-text">{text}</p>}
      </div>
      {children}
      {(keys !== undefined || aside !== undefined) && (
        <div class="strip-foot">
          <div class="strip-keys">{keys}</div>
          {aside !== undefined && <p class="strip-aside">{aside}</p>}
        </div>
      )}
    </fieldset>
  );
}

export interface StandingFigure {
  /** Names the value for onChoose: the entry it comes from. */
  id: string;
  value: string;
  /** "Inspector 1, tablet A". */
  who: string;
  counts_now?: boolean | undefined;
  /** Word on its key; the value unless said. */
  key_label?: string | undefined;
}

export interface TwoValuesProps {
  /** "Depth of dent, A/0013. The worse counts until you do." */
  text: string;
  values: StandingFigure[];
  /** Why this person can't choose. */
  unavailable?: string | undefined;
  onChoose: (id: string) => void;
}

/** Two values – choose: both stand, one counts now, one key each. */
export function TwoValues({ text, values, unavailable, onChoose }: TwoValuesProps) {
  const id = useId();
  return (
    <fieldset class="strip two-values" aria-labelledby={id}>
      <div class="two-words">
        <h2 id={id} class="strip-title small">
          {values.length > 2 ? `${values.length} values – choose` : 'Two values – choose'}
        </h2>
        <p class="strip-text">{text}</p>
      </div>
      <ul class="two-list">
        {values.map((value) => (
          <li key={value.id}>
            <div>
              <p>
                <b class="two-value">{value.value}</b>
                {value.counts_now && <b class="two-counts">counts now</b>}
              </p>
              <p class="two-who">{value.who}</p>
            </div>
            <Key
              label={value.key_label ?? value.value}
              spoken={spokenChoice(value, unavailable)}
              size="small"
              unavailable={unavailable}
              onPress={() => onChoose(value.id)}
            />
          </li>
        ))}
      </ul>
    </fieldset>
  );
}

/** What a key chooses, with the words that stand on it. */
function spokenChoice({ value, who, key_label }: StandingFigure, unavailable?: string): string {
  const label = key_label ?? value;
  const choice = `Choose ${value}, ${who}`;
  if (unavailable) return `${label} ${unavailable}: ${choice}`;
  return choice.includes(label) ? choice : `${label}: ${choice}`;
}

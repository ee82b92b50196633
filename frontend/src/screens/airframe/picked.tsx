import type { ComponentChildren } from 'preact';
import { Key, KeyRow } from '../../furniture';

export interface Option {
  label: string;
  second?: string | undefined;
  chosen?: boolean | undefined;
  unavailable?: string | undefined;
  onPick: () => void;
}

/** A page of keys to choose from, with the way back. */
export function Picked(props: {
  label: string;
  options: Option[];
  /** Choices of less use, under a caption of their own. */
  others?: { label: string; options: Option[] } | undefined;
  /** What BACK leaves as it was; left out where there is no way back. */
  back?: string | undefined;
  onBack?: (() => void) | undefined;
  /** Above the keys: what is asked, or why there is none. */
  words?: string | undefined;
  /** Beside the way back: the key that moves the job on. */
  main?: ComponentChildren;
  /** TOUCH OFF and UNDO, in the place of the way back. */
  ends?: ComponentChildren;
}) {
  return (
    <div class="choices">
      {props.words !== undefined && <p class="choice-words">{props.words}</p>}
      <Options label={props.label} options={props.options} />
      {props.others && props.others.options.length > 0 && (
        <>
          <h2 class="cap choice-others">{props.others.label}</h2>
          <Options {...props.others} />
        </>
      )}
      <div class={props.ends ? 'choice-foot with-ends' : 'choice-foot'}>
        {props.ends ? (
          props.ends
        ) : props.onBack ? (
          <Key label="BACK" size="inside" second={props.back} onPress={props.onBack} />
        ) : (
          <span />
        )}
        {props.main}
      </div>
    </div>
  );
}

function Options({ label, options }: { label: string; options: Option[] }) {
  return (
    <KeyRow label={label}>
      {options.map((option) => (
        <Key
          key={option.label}
          label={option.label}
          second={option.second}
          size="inside"
          place="choice"
          chosen={option.chosen}
          unavailable={option.unavailable}
          onPress={option.onPick}
        />
      ))}
    </KeyRow>
  );
}

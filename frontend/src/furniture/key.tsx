import type { ComponentChildren } from 'preact';
import { announce } from './announce.ts';
import './key.css';

export interface KeyProps {
  /** Words of the key; "\n" breaks the line. */
  label: string;
  /** Second line: what it does, or what comes next. */
  second?: string | undefined;
  /** main: the one key that moves the job on. undo: stands apart. */
  kind?: 'plain' | 'main' | 'undo' | undefined;
  /** Set for a key that is one of several: true is the chosen one. */
  chosen?: boolean | undefined;
  /** Why the key can't be used now; becomes its second line. */
  unavailable?: string | undefined;
  /** inside: 119 px, used within the structure. desk: 72 px. small: 48 px. */
  size?: 'inside' | 'desk' | 'small' | undefined;
  /** Size of the label: 20 usual, 28 long, 40 pad figures and SHUTTER. */
  letters?: 18 | 20 | 24 | 28 | 40 | undefined;
  /** Drawing above the label, such as a rivet head. */
  picture?: ComponentChildren;
  /** Further class, for the place of the key in a grid. */
  place?: string | undefined;
  /** Name for those who listen, where the label alone says too little. */
  spoken?: string | undefined;
  /** Keys on the keyboard that do the same, in ARIA form ("Enter"). */
  shortcut?: string | undefined;
  type?: 'button' | 'submit' | undefined;
  onPress?: (() => void) | undefined;
}

/** A plain square-cornered key. It acts on release. */
export function Key(props: KeyProps) {
  const { label, kind = 'plain', unavailable, size = 'desk', letters = 20 } = props;
  const second = unavailable ?? props.second;
  return (
    <button
      type={props.type ?? 'button'}
      class={keyClass(props, kind, size, letters)}
      aria-pressed={props.chosen}
      aria-disabled={unavailable !== undefined ? true : undefined}
      aria-label={props.spoken}
      aria-keyshortcuts={props.shortcut}
      onClick={(event) => press(event, props)}
    >
      {props.picture !== undefined && <span class="key-picture">{props.picture}</span>}
      <span class="key-label">{label}</span>
      {second !== undefined && ' '}
      {second !== undefined && <span class="key-second">{second}</span>}
    </button>
  );
}

function keyClass(props: KeyProps, kind: string, size: string, letters: number): string {
  const names = ['key', `key-${kind}`, `key-${size}`, `letters-${letters}`];
  if (props.chosen) names.push('chosen');
  if (props.unavailable !== undefined) names.push('unavailable');
  if (props.place) names.push(props.place);
  return names.join(' ');
}

function press(event: MouseEvent, props: KeyProps) {
  if (props.unavailable === undefined) {
    props.onPress?.();
    return;
  }
  event.preventDefault();
  announce(`${props.label.replaceAll('\n', ' ')} can’t be used now: ${props.unavailable}.`);
}

/** A key at the desk: 48 px high, its label in 18 px. */
export function DeskKey(props: Omit<KeyProps, 'size' | 'letters'>) {
  return <Key {...props} size="small" letters={18} />;
}

/** Keys of one row or block; at the airframe 12 px apart, at the desk 8. */
export function KeyRow({
  children,
  label,
  apart = 'airframe',
}: {
  children: ComponentChildren;
  label?: string | undefined;
  apart?: 'airframe' | 'desk' | undefined;
}) {
  return label === undefined ? (
    <div class={`key-row key-row-${apart}`}>{children}</div>
  ) : (
    <fieldset class={`key-row key-row-${apart}`} aria-label={label}>
      {children}
    </fieldset>
  );
}

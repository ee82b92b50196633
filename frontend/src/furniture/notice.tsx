import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { SAFETY_FULL, SAFETY_SHORT } from './words.ts';
import './notice.css';

export interface ErrorFrameProps {
  /** What happened: "Picture not stored". */
  title: string;
  /** Why, and what to do. */
  text: string;
  /** Keys that deal with it. */
  children?: ComponentChildren;
}

/** What happened and what to do; stays until it is dealt with. */
export function ErrorFrame({ title, text, children }: ErrorFrameProps) {
  return (
    <div class="error-frame" role="alert">
      <p class="error-head">
        <span class="error-sign">!</span>
        <b>{title}</b>
      </p>
      <p class="error-text">{text}</p>
      {children !== undefined && <div class="strip-keys">{children}</div>}
    </div>
  );
}

export interface EmptyProps {
  /** What was looked for: "Zone 131: no record". */
  title: string;
  /** "0 of 36 cells looked at". */
  cells?: string | undefined;
  /** False: nobody looked, so the ground is hatched and says so. */
  looked_at: boolean;
  /** The next step. */
  children?: ComponentChildren;
}

/** Nothing here: found clear, or not looked at. The two never look alike. */
export function Empty({ title, cells, looked_at, children }: EmptyProps) {
  return (
    <div class={looked_at ? 'empty' : 'empty not-looked-at'}>
      {!looked_at && <p class="empty-words">NOT LOOKED AT</p>}
      <div class="empty-plate">
        <p class="empty-title">{title}</p>
        {cells !== undefined && <p class="empty-cells">{cells}</p>}
        {children}
      </div>
    </div>
  );
}

const PATIENCE_MS = 2000;

export interface LoadingProps {
  /** What is coming, said after two seconds: "Records of zone 111". */
  what: string;
}

/** Set out in thin lines and centre lines, inked on arrival. Nothing moves. */
export function Loading({ what }: LoadingProps) {
  const [late, setLate] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setLate(true), PATIENCE_MS);
    return () => clearTimeout(timer);
  }, []);
  return (
    <div class="loading" role="status">
      <svg class="loading-lines" aria-hidden="true">
        <line class="ln-second thin chain" x1="0" x2="100%" y1="50%" y2="50%" />
        <line class="ln-second thin chain" x1="32" x2="32" y1="0" y2="100%" />
      </svg>
      <span class={late ? 'loading-words' : 'spoken'}>{late ? `${what} …` : 'Loading'}</span>
    </div>
  );
}

export interface CorrectionProps {
  was: string;
  now: string;
  /** "Inspector 1, 2025-03-08". */
  by: string;
  why: string;
}

/** The old value struck by one line, the new one bold, then who, when, why. */
export function Correction({ was, now, by, why }: CorrectionProps) {
  return (
    <span class="correction">
      <del>{was}</del> <ins>{now}</ins>{' '}
      <span class="correction-why">
        corrected by {by}: {why}
      </span>
    </span>
  );
}

export interface SafetyLineProps {
  /** full: the two sentences. short: five words, the sentences one touch away. */
  wording: 'short' | 'full';
}

/** The safety wording, on every screen that grades. */
export function SafetyLine({ wording }: SafetyLineProps) {
  if (wording === 'full') return <p class="safety-full">{SAFETY_FULL}</p>;
  return (
    <details class="safety-short">
      <summary>{SAFETY_SHORT}</summary>
      <p class="safety-full">{SAFETY_FULL}</p>
    </details>
  );
}

/** Number of an unsent record with where it is stored; nothing is said once it is on the server. */
export function StoredNumber({ number, stored }: { number: string; stored?: string | undefined }) {
  return (
    <span class="stored-number">
      <b>{number}</b>
      {stored !== undefined && <span class="stored-where">{stored}</span>}
    </span>
  );
}

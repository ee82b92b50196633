import { useEffect, useRef, useState } from 'preact/hooks';
import { announce } from './announce.ts';
import { Key } from './key.tsx';
import './touchoff.css';

export interface TouchOffProps {
  /** Called after both keys, at opposite corners, were pressed in turn. */
  onRelease: () => void;
  /** Time the second key waits before the first must be pressed again. */
  wait_ms?: number | undefined;
}

const SWALLOWED = ['pointerdown', 'pointerup', 'touchstart', 'touchmove', 'wheel', 'contextmenu'];

/** Lies over the sheet and ignores touches. Two keys at opposite corners, one after the other, end it. */
export function TouchOff({ onRelease, wait_ms = 5000 }: TouchOffProps) {
  const [step, setStep] = useState<1 | 2>(1);
  const cover = useRef<HTMLElement>(null);
  useSwallowed(cover);
  useEffect(() => announce('Touch is off. Two keys in turn, at opposite corners, put it on.'), []);
  useEffect(() => {
    if (step === 1) return;
    const timer = setTimeout(() => setStep(1), wait_ms);
    return () => clearTimeout(timer);
  }, [step, wait_ms]);
  useEffect(() => cover.current?.querySelector('button')?.focus(), []);
  return (
    <section class="touch-off" ref={cover} aria-label="Touch is off">
      <p class="touch-off-words">TOUCH OFF – this sheet ignores touches</p>
      <div class={`touch-off-key step-${step}`}>
        <Key
          label={'TOUCH ON'}
          second={step === 1 ? '1 of 2, then\nthe far corner' : '2 of 2'}
          size="inside"
          onPress={() => (step === 1 ? setStep(2) : onRelease())}
        />
      </div>
    </section>
  );
}

/** Touches outside the key end here: nothing under the cover and no scrolling hears of them. */
function useSwallowed(cover: { current: HTMLElement | null }) {
  useEffect(() => {
    const element = cover.current;
    if (!element) return;
    const swallow = (event: Event) => {
      if (event.target instanceof Element && event.target.closest('button')) return;
      event.preventDefault();
      event.stopPropagation();
    };
    for (const kind of SWALLOWED) element.addEventListener(kind, swallow, { passive: false });
    return () => {
      for (const kind of SWALLOWED) element.removeEventListener(kind, swallow);
    };
  }, [cover]);
}

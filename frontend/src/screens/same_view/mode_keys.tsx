import { Key, useKeydown } from '../../furniture';
import type { Comparing } from './comparing';
import type { Pair } from './pair';
import type { Touching } from './touching';

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};

/** The steps of the way of looking that is chosen. */
export function ModeKeys({ pair }: { pair: Pair }) {
  const { comparing, touching } = pair;
  useArrows(comparing.mode === 'rivets', touching);
  if (comparing.mode === 'blink') return <BlinkKeys comparing={comparing} />;
  if (comparing.mode === 'slide') return <SlideKeys comparing={comparing} />;
  return comparing.mode === 'rivets' ? <StepKeys touching={touching} /> : null;
}

/** The keyboard's arrows step the point; with shift by ten. */
function useArrows(is_rivets: boolean, { nudge }: Touching): void {
  useKeydown((event) => {
    const [right, down] = ARROWS[event.key] ?? [];
    if (!is_rivets || right === undefined || down === undefined) return;
    event.preventDefault();
    const times = event.shiftKey ? 10 : 1;
    nudge(right * times, down * times);
  });
}

function BlinkKeys({ comparing }: { comparing: Comparing }) {
  return (
    <>
      <Key
        label="SWAP"
        second={comparing.shown === 'here' ? 'shows now' : 'shows the earlier'}
        size="inside"
        place="half"
        onPress={comparing.swap}
      />
      <Key
        label={'BY\nITSELF'}
        second="once a second"
        size="inside"
        place="more-than-half"
        chosen={comparing.by_itself}
        unavailable={comparing.still}
        onPress={comparing.turn}
      />
    </>
  );
}

function SlideKeys({ comparing }: { comparing: Comparing }) {
  return (
    <>
      <Key
        label="◄ LESS"
        second="of the earlier"
        size="inside"
        place="half"
        onPress={() => comparing.setShare(comparing.share - 10)}
      />
      <Key
        label="MORE ►"
        second="of the earlier"
        size="inside"
        place="more-than-half"
        onPress={() => comparing.setShare(comparing.share + 10)}
      />
    </>
  );
}

const STEPS = [
  { label: 'LEFT', sign: '◄', by: [-1, 0] },
  { label: 'UP', sign: '▲', by: [0, -1] },
  { label: 'DOWN', sign: '▼', by: [0, 1] },
  { label: 'RIGHT', sign: '►', by: [1, 0] },
] as const;

/** Steps for the rivet that was touched, and the way to the next. */
function StepKeys({ touching }: { touching: Touching }) {
  const { nudge, step_px, active, spots } = touching;
  const none = spots[active.which][active.at] ? undefined : 'touch the rivet';
  return (
    <>
      {STEPS.map(({ label, sign, by }) => (
        <Key
          key={label}
          label={label}
          picture={<span aria-hidden="true">{sign}</span>}
          second={`${step_px} px`}
          size="inside"
          unavailable={none}
          onPress={() => nudge(by[0], by[1])}
        />
      ))}
      <Key
        label={'NEXT\nRIVET'}
        second={`${active.at + 1} of 3 in\n${active.which === 'here' ? 'now' : 'earlier'}`}
        size="inside"
        onPress={touching.next}
      />
    </>
  );
}

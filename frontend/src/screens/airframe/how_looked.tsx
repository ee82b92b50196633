import type { Bay } from './bay';
import { bayWords } from './bay';
import { storeLook } from './looked_key';
import { howOf, type Looking, METHODS, PAINT_WORDS, PAINTS } from './looking';
import type { MoreKeysProps } from './more_keys';
import { Picked } from './picked';

/** How a bay was looked at, and through which paint: asked before the first look of a day, and what
is answered last stores the look. */
export function HowLooked(props: MoreKeysProps & { bay: Bay }) {
  const { shop, bay, looking, onLooking, run, onClose } = props;
  const answer = (part: Partial<Looking>) => {
    onLooking(part);
    const now = { ...looking, ...part };
    if (howOf(now) === null) return;
    run(async () => {
      await storeLook(shop, bay, now);
      onClose();
    });
  };
  const where = bayWords(bay);
  if (looking.method === null)
    return (
      <Picked
        label="Method of looking"
        words={`${where}: how was it looked at? Asked once a day; it stands on the key.`}
        back="nothing is stored"
        onBack={onClose}
        options={METHODS.map((method) => ({ label: method, onPick: () => answer({ method }) }))}
      />
    );
  return (
    <Picked
      label="Paint"
      words={`${where}, by ${looking.method}: was the paint on? The look is stored then.`}
      back="to the method"
      onBack={() => onLooking({ method: null })}
      options={PAINTS.map((paint) => ({
        label: PAINT_WORDS[paint] ?? paint,
        onPick: () => answer({ paint }),
      }))}
    />
  );
}

import { useState } from 'preact/hooks';
import { Key, KeyRow } from '../../furniture';
import type { Shop } from '../../services/shop';
import { usePhotograph } from '../photograph/pictures';
import type { Alongside } from './alongside';
import { dayOf, useViewPicture, type ViewPicture } from './view_pictures';
import './alongside_strip.css';

export interface AlongsideStripProps {
  shop: Shop;
  alongside: Alongside;
  /** What can be done with a held picture here, besides letting it go. */
  actions: readonly { label: string; act: (photograph: string) => void }[];
}

/** Up to four pictures held beside the view; touched, one shows what can be done with it. */
export function AlongsideStrip({ shop, alongside, actions }: AlongsideStripProps) {
  const { held, asked, letGo, leave } = alongside;
  const [chosen, setChosen] = useState<string | null>(null);
  if (held.length === 0) return null;
  const picked = held.find((one) => one === chosen) ?? null;
  return (
    <section class="alongside" aria-label="Pictures held alongside">
      {asked && (
        <p class="alongside-asked" role="status">
          {FULL}
        </p>
      )}
      <div class="alongside-row">
        {held.map((one) => (
          <Held
            key={one}
            shop={shop}
            photograph={one}
            chosen={one === picked}
            asked={asked !== null}
            onPress={() => (asked ? letGo(one) : setChosen(one === picked ? null : one))}
          />
        ))}
      </div>
      {asked && (
        <KeyRow label="A fifth picture">
          <Key label="LEAVE IT" size="small" second="hold no other" onPress={leave} />
        </KeyRow>
      )}
      {picked && !asked && (
        <KeyRow label="The held picture">
          {actions.map(({ label, act }) => (
            <Key
              key={label}
              label={label}
              size="small"
              onPress={() => {
                setChosen(null);
                act(picked);
              }}
            />
          ))}
          <Key label="LET GO" kind="undo" size="small" onPress={() => letGo(picked)} />
        </KeyRow>
      )}
    </section>
  );
}

const FULL = 'Four pictures are held. Touch the one that goes.';

function Held(props: {
  shop: Shop;
  photograph: string;
  chosen: boolean;
  asked: boolean;
  onPress: () => void;
}) {
  const { shop, photograph, chosen, asked, onPress } = props;
  const picture = useViewPicture(shop, photograph);
  const url = usePhotograph(shop, picture?.sha256, 320);
  const words = picture ? nameOf(picture) : 'picture not here';
  return (
    <Key
      label={picture ? picture.number : 'picture'}
      second={picture ? dayOf(picture) : 'not here'}
      spoken={asked ? `Let go ${words}` : `Held alongside: ${words}`}
      size="small"
      place="held"
      chosen={chosen}
      picture={url && <img class={picture?.mirrored ? 'mirrored' : ''} src={url} alt="" />}
      onPress={onPress}
    />
  );
}

/** "A/0009 2025-03-08, close". */
function nameOf(picture: ViewPicture): string {
  return [`${picture.number} ${dayOf(picture)}`.trim(), picture.role].join(', ');
}

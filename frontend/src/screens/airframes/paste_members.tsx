import { useEffect, useRef, useState } from 'preact/hooks';
import { announce, DeskKey, KeyRow } from '../../furniture';
import { type Joined, joinMembers } from '../../services/airframe_edits';
import { type Row, type StructureTyped, said } from '../../services/airframe_rows';
import { type LineTrouble, readMembers } from '../../services/airframes';
import { TroubleNote, useTrouble } from '../frame/trouble';
import type { PartProps } from './described';
import { counted } from './parts';
import { PasteBox } from './paste';

interface Read {
  troubles: LineTrouble[];
  members: Row[];
}

/**
 * Lines, a table out of a spreadsheet, or CSV; what can't be read is said line by line, and what
 * stands already by name, before anything is replaced.
 */
export function PasteMembers(
  props: PartProps & {
    typed: StructureTyped;
    onRead: (members: Row[]) => void;
    onClose: () => void;
  },
) {
  const { shop, typed, draft, onRead, onClose } = props;
  const [found, setFound] = useState<Read | null>(null);
  const { trouble, busy, run } = useTrouble();
  const take = (members: Row[], words: string) => {
    onRead(members);
    announce(words);
    onClose();
  };
  const read = (text: string) =>
    run(async () => {
      const unit = typed.unit || draft.description.unit;
      const now = await readMembers(shop.api, { structure: typed.name, unit, text });
      const joined = joinMembers(typed.members, now.members);
      const is_clear = now.troubles.length === 0 && joined.replaced.length === 0;
      if (is_clear && now.members.length > 0)
        take(joined.members, `${counted(now.members.length, 'member')} read.`);
      else setFound(now);
    });
  return (
    <>
      <PasteBox
        label={`Members of ${typed.name || 'the structure'}, a line each: name, station, kind, main …`}
        example={'Fr1, -450\nFr2, 0, frame, main\nFr2A, 150, half frame'}
        troubles={found?.troubles ?? []}
        busy={busy}
        onEdit={() => setFound((last) => (last?.troubles.length ? last : null))}
        onRead={read}
      />
      {found && found.members.length > 0 && (
        <Taking joined={joinMembers(typed.members, found.members)} typed={typed} onTake={take} />
      )}
      <TroubleNote trouble={trouble} />
      <p class="part-hint">
        A canted member has a second figure, its station at the deck: <b>Fr10 2600 2680</b>. A
        second list adds to the first; a line of a name that stands already replaces that member,
        once you say so.
      </p>
    </>
  );
}

const MOST_NAMED = 12;

/** What the lines read would do: replace members by name, add others. */
function Taking(props: {
  joined: Joined;
  typed: StructureTyped;
  onTake: (members: Row[], words: string) => void;
}) {
  const { joined, typed, onTake } = props;
  const { replaced, added, members } = joined;
  const box = useRef<HTMLDivElement>(null);
  const count = replaced.length;
  useEffect(() => {
    if (count > 0) box.current?.querySelector('button')?.focus();
  }, [count]);
  if (count === 0)
    return (
      <DeskKey
        label={`TAKE ${counted(added.length, 'RIGHT LINE').toUpperCase()}`}
        onPress={() => onTake(members, `${counted(added.length, 'member')} read.`)}
      />
    );
  const more = count > MOST_NAMED ? ` and ${count - MOST_NAMED} more` : '';
  const done = `${counted(count, 'member')} replaced${added.length > 0 ? `, ${added.length} added` : ''}.`;
  return (
    <div class="part-block" ref={box}>
      <p class="part-said" role="alert">
        <b>
          {count === 1 ? 'This name stands' : `These ${count} names stand`} in {typed.name || 'it'}{' '}
          already:
        </b>{' '}
        {replaced.slice(0, MOST_NAMED).join(', ')}
        {more}. Nothing is changed yet; a line of the same name replaces the standing one.
      </p>
      <KeyRow apart="desk">
        <DeskKey
          label={`REPLACE ${count}${added.length > 0 ? ` AND ADD ${added.length}` : ''}`}
          kind="main"
          onPress={() => onTake(members, done)}
        />
        {added.length > 0 && (
          <DeskKey
            label={`ADD ${added.length} ALONE`}
            second="what stands is kept"
            onPress={() =>
              onTake(
                [...said(typed.members), ...added],
                `${counted(added.length, 'member')} added.`,
              )
            }
          />
        )}
      </KeyRow>
    </div>
  );
}

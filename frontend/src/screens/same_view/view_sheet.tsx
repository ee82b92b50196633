import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { SAFETY_SHORT, Sheet, TitleBlock, TouchOff } from '../../furniture';
import type { DefectRow, Shop } from '../../services/shop';
import { useLooking } from '../airframe/looking';
import { RecordMark } from '../frame/record_mark';
import { RecordScale } from '../frame/record_scale';
import { useAirframeTitle } from '../frame/title';
import { type Trouble, TroubleNote } from '../frame/trouble';

export interface ViewSheetProps {
  shop: Shop;
  row: DefectRow;
  /** What is shown, and what is said under it. */
  head: string;
  under: string;
  trouble: Trouble | null;
  keys: (onTouchOff: () => void) => ComponentChildren;
  children: ComponentChildren;
}

/** The sheet of a view of a record: its scale, head and keys, and the lock against touches. */
export function ViewSheet(props: ViewSheetProps) {
  const { shop, row, head, under, trouble, keys, children } = props;
  const [looking] = useLooking(shop);
  const title = useAirframeTitle(shop);
  const [touchOff, setTouchOff] = useState(false);
  return (
    <>
      <Sheet
        layout="airframe"
        hand={looking.hand}
        top={<RecordScale shop={shop} row={row} />}
        title={<TitleBlock variant="airframe" cells={title} />}
        keys={keys(() => setTouchOff(true))}
      >
        <div class="one-view">
          <header class="live-head">
            <RecordMark row={row} plain size={56} />
            <h1>{row.number}</h1>
            <p>
              <strong>{head}</strong>
              <span>{under}</span>
              <span class="picture-safety">{SAFETY_SHORT}</span>
            </p>
          </header>
          <TroubleNote trouble={trouble} />
          {children}
        </div>
      </Sheet>
      {touchOff && <TouchOff onRelease={() => setTouchOff(false)} />}
    </>
  );
}

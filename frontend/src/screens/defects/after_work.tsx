import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';
import type { DefectRow, Shop } from '../../services/shop';
import { TroubleNote, useTrouble } from '../frame/trouble';

/** The pictures to choose from, and the way to add one taken after the work. */
export function AfterWork(props: {
  shop: Shop;
  row: DefectRow;
  onValue: (photograph: string) => void;
  children: ComponentChildren;
}) {
  const { shop, row } = props;
  const { trouble, busy, run } = useTrouble();
  const id = useId();
  const add = (file: File | undefined) =>
    run(async () => {
      if (!file || !shop.session) return;
      const role = 'after work';
      const added = await shop.capture.addPhotograph(shop.session, row.record, file, role);
      await shop.capture.checked(added.record);
      props.onValue(added.record);
    });
  return (
    <>
      {props.children}
      <label class="why" htmlFor={id}>
        <span>{busy ? 'Storing the photograph …' : 'Add a photograph taken after the work'}</span>
        <input
          id={id}
          type="file"
          accept="image/*"
          onChange={(event) => add(event.currentTarget.files?.[0])}
        />
      </label>
      <TroubleNote trouble={trouble} />
    </>
  );
}

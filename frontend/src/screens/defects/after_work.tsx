import type { ComponentChildren } from 'preact';
import type { DefectRow, Shop } from '../../services/shop';
import { Field } from '../frame/fields';
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
      <Field label={busy ? 'Storing the photograph …' : 'Add a photograph taken after the work'}>
        <input
          type="file"
          accept="image/*"
          onChange={(event) => add(event.currentTarget.files?.[0])}
        />
      </Field>
      <TroubleNote trouble={trouble} />
    </>
  );
}

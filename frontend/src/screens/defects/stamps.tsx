import { Stamp, type StampAct, UnsignedStamp } from '../../furniture';
import type { DefectRow, Shop } from '../../services/shop';
import { roleWords } from '../frame/words';
import { useLive } from '../live';

/** As on the report: the book asks for no signatures yet. */
const UNSIGNED = 'stamp shown, not electronically signed';

/** Stamps of a record; while none stands, the empty outline with its caption outside. */
export function Stamps({ shop, row }: { shop: Shop; row: DefectRow }) {
  const stamps = useLive(shop, () => shop.book.related(row.record, 'stamp'), [row.record]);
  const people = useLive(shop, () => shop.book.records('person'), []) ?? [];
  // Nothing is said of stamps before they are read: an empty outline means unsigned.
  if (!stamps) return null;
  const roleOf = (person: unknown) => {
    const found = people.find((one) => one.record === person);
    return roleWords(((found?.role as { role?: string } | undefined)?.role ?? '') as string);
  };
  return (
    <section class="stamps">
      <h2>Decided and stamped</h2>
      <div class="stamps-row">
        {stamps.map((stamp) => (
          <figure key={stamp.record}>
            <Stamp
              act={stamp.overrules ? 'OVERRULE' : (stamp.act as StampAct)}
              number={String(stamp.number ?? '–')}
              role_name={roleOf(stamp.person)}
              date={String(stamp.date ?? '')}
            />
            <figcaption>{UNSIGNED}</figcaption>
          </figure>
        ))}
        {stamps.length === 0 && <UnsignedStamp caption="inspection stamp" />}
      </div>
      {stamps.length > 0 && row.state === 'Cleared' && !row.stamps_hold && (
        <p class="changed-since">Changed since stamped</p>
      )}
    </section>
  );
}

import { shortWords } from '../../domain/stamp_words';
import { Stamp, type StampAct, UnsignedStamp } from '../../furniture';
import type { DefectRow, Shop } from '../../services/shop';
import { OvertakenLine } from '../frame/overtaken_line';
import { roleWords } from '../frame/words';
import { useLive } from '../live';

/** As on the report: the book asks for no signatures yet. */
const UNSIGNED = 'stamp shown, not electronically signed';

/** Stamps of a record, each with why it does not hold; while none stands, the empty outline with its
caption outside. */
export function Stamps({ shop, row }: { shop: Shop; row: DefectRow }) {
  const related = useLive(shop, () => shop.book.related(row.record, 'stamp'), [row.record]);
  const people = useLive(shop, () => shop.book.records('person'), []) ?? [];
  // Nothing is said of stamps before they are read: an empty outline means unsigned.
  if (!related) return null;
  const roleOf = (person: unknown) => {
    const found = people.find((one) => one.record === person);
    return roleWords(((found?.role as { role?: string } | undefined)?.role ?? '') as string);
  };
  const overrules = (entry: string) => related.find((one) => one.entry === entry)?.overrules;
  return (
    <section class="stamps">
      <h2>Decided and stamped</h2>
      <OvertakenLine row={row} />
      <div class="stamps-row">
        {row.stamps.map((stamp) => (
          <figure key={stamp.entry}>
            <Stamp
              act={overrules(stamp.entry) ? 'OVERRULE' : (stamp.act as StampAct)}
              number={stamp.number || '–'}
              role_name={roleOf(stamp.person)}
              date={stamp.date}
            />
            <figcaption>
              {UNSIGNED}
              {stamp.overtaken && <b class="overtaken">{shortWords(stamp)}</b>}
            </figcaption>
          </figure>
        ))}
        {row.stamps.length === 0 && <UnsignedStamp caption="inspection stamp" />}
      </div>
    </section>
  );
}

import { useEffect, useState } from 'preact/hooks';
import type { Shop } from '../../services/shop';
import { useExchange } from '../frame/contact';
import { type Keeping, keepingLines } from './keeping_words';

/** The copies of the book: how old the last backup is, and the last proof that one can be read. */
export function Backups({ shop }: { shop: Shop }) {
  const kept = useKeeping(shop);
  return (
    <section>
      <table class="bars keeping">
        <caption>
          <span class="bars-caption">Backups</span>
          {!kept && <span class="bars-note">{lackWords(shop)}</span>}
        </caption>
        {kept && (
          <tbody>
            {keepingLines(kept).map((line) => (
              <tr key={line.what}>
                <th scope="row">
                  <b>{line.what}</b>
                </th>
                <td class="keeping-last">
                  {line.is_due && <span class="error-sign">!</span>}
                  {line.is_due ? <b>{line.last}</b> : line.last}
                </td>
                <td>{line.todo}</td>
              </tr>
            ))}
          </tbody>
        )}
      </table>
    </section>
  );
}

/** As the server says it now; null while it does not: an old answer would lie about the age. */
function useKeeping(shop: Shop): Keeping | null {
  const [kept, setKept] = useState<Keeping | null>(null);
  const { last_contact_ms, away } = useExchange(shop);
  const { session } = shop;
  useEffect(() => {
    if (!session?.online || away) return setKept(null);
    let is_left = false;
    const tell = (one: Keeping | null) => is_left || setKept(one);
    shop.api.get<Keeping>('/api/keeping').then(tell, () => tell(null));
    return () => {
      is_left = true;
    };
  }, [shop, session?.person, session?.online, away, last_contact_ms]);
  return kept;
}

function lackWords(shop: Shop): string {
  const { away } = shop.exchange.state;
  if (away) return 'the server is away: how old its last backup is can’t be known here';
  if (!shop.session?.online) return 'not signed in at the server, which tells how old they are';
  return 'asking the server …';
}

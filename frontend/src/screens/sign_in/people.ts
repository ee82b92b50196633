import { useEffect, useState } from 'preact/hooks';
import type { PersonListed, Shop } from '../../services/shop';

/** Names that may sign in; undefined until they are here, [] where none can be had. */
export function usePeople(shop: Shop): PersonListed[] | undefined {
  const [people, setPeople] = useState<PersonListed[]>();
  useEffect(() => {
    let left = false;
    const show = (found: PersonListed[]) => !left && setPeople(found);
    shop.people.list().then(show, () => show([]));
    return () => {
      left = true;
    };
  }, [shop]);
  return people;
}

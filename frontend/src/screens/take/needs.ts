import { useEffect, useState } from 'preact/hooks';
import type { Copies, Shop, TakeNeed, TakeState, WholeNeed } from '../../services/shop';

/** How taking stands, followed as it changes. */
export function useTake(shop: Shop): TakeState {
  const [state, setState] = useState(shop.take.state);
  useEffect(() => shop.subscribe(() => setState(shop.take.state)), [shop]);
  return state;
}

interface Needs {
  need?: WholeNeed;
  needs: Record<string, TakeNeed>;
}

/** What the chosen zones need, and each zone by itself; counted again after each change. */
export function useNeeds(
  shop: Shop,
  chosen: readonly string[],
  copies: Copies,
  changes: unknown[],
): Needs {
  const [found, setFound] = useState<Needs>({ needs: {} });
  useEffect(() => {
    let left = false;
    const asked = Promise.all([shop.take.need(chosen, copies), shop.take.byZone(copies)]);
    asked.then(
      ([need, needs]) => left || setFound({ need, needs }),
      () => undefined,
    );
    return () => {
      left = true;
    };
  }, [shop, chosen.join(' '), copies, ...changes]);
  return found;
}

/** How many people this browser lets in with no network. */
export function usePeopleHere(shop: Shop): number | undefined {
  const [people, setPeople] = useState<number>();
  useEffect(() => {
    shop.people.list().then(
      (listed) => setPeople(listed.filter(({ offline, role }) => offline && role).length),
      () => undefined,
    );
  }, [shop]);
  return people;
}

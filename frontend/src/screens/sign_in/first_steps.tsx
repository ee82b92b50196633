import { useEffect, useState } from 'preact/hooks';
import { Key, KeyRow } from '../../furniture';
import type { PersonListed, ScreenProps, Shop } from '../../services/shop';

interface Props {
  shop: Shop;
  go: ScreenProps['go'];
  people: PersonListed[] | undefined;
}

/** The next step of a browser that is new, or of a book that is empty. */
export function FirstSteps({ shop, go, people }: Props) {
  const empty = useEmptyBook(shop, people);
  if (empty)
    return (
      <section class="first-steps">
        <p>
          This book is empty. It asks for the workshop and the first lead; the airframe is described
          after.
        </p>
        <Key label="SET UP THE BOOK" kind="main" letters={28} onPress={() => go('/set-up')} />
      </section>
    );
  if (shop.device) return <p class="sign-in-hint">Touch your name, then type your passcode.</p>;
  return (
    <section class="first-steps">
      <p>
        This browser is not enrolled yet. A tablet that goes to the airframe needs a one-time code
        from the lead; at a desk, sign in first.
      </p>
      <KeyRow>
        <Key label="ENROL THIS TABLET" second="with a code" onPress={() => go('/enrol')} />
      </KeyRow>
    </section>
  );
}

/** Asks the server only where no name is known: a book with people is not empty. */
function useEmptyBook(shop: Shop, people: PersonListed[] | undefined): boolean {
  const [empty, setEmpty] = useState(false);
  useEffect(() => {
    if (shop.device || people === undefined || people.length > 0) return;
    shop.api.get<{ empty: boolean }>('/api/setup').then(
      (answer) => setEmpty(answer.empty),
      () => setEmpty(false),
    );
  }, [shop, people]);
  return empty;
}

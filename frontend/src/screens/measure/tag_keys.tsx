import { tag } from '../../domain/numbers';
import { Key } from '../../furniture';
import type { DefectRow, Shop } from '../../services/shop';
import { EndKeys, type Ends } from './end_keys';

/** The tag beside the defect: constructor's number, number and check character, on or not yet. */
export function TagKeys(
  props: Ends & {
    shop: Shop;
    row: DefectRow;
    on: boolean;
    onSet: (tag: string | null) => void;
    onDone: () => void;
  },
) {
  const { shop, row, on, onSet, onDone } = props;
  const built = shop.airframe?.constructor_number ?? '';
  const written = tagOf(built, row.number);
  const shown = tagWords(written);
  const words = `${shown.written} ${shown.check}`;
  return (
    <div class="choices">
      <p class="choice-words">
        Write it on the tag, or in wax beside the defect: <strong>{words}</strong>
      </p>
      <div class="choice-last tag-foot">
        <EndKeys {...props} />
        <Key
          label="NO TAG YET"
          size="inside"
          chosen={!on}
          onPress={() => {
            if (on) onSet(null);
            onDone();
          }}
        />
        <Key
          label={`TAG IS ON\n${words}`}
          second="the last character checks the others"
          kind="main"
          size="inside"
          onPress={() => {
            onSet(written);
            onDone();
          }}
        />
      </div>
    </div>
  );
}

/** A tag as it is read out, "2603 B 0017 – O", and what its last character is: "(letter)". */
export function tagWords(tag: string): { written: string; check: string } {
  const [, built, letter, serial, check] = /^(\w*?)([A-Z]{1,2})(\d{4})([0-9A-Z*])$/.exec(tag) ?? [];
  if (!check) return { written: tag, check: '' };
  const kind = /\d/.test(check) ? 'figure' : check === '*' ? 'star' : 'letter';
  return { written: `${built} ${letter} ${serial} – ${check}`, check: `(${kind})` };
}

function tagOf(built: string, number: string | null): string {
  try {
    return tag(built, number ?? '');
  } catch {
    return number ?? '';
  }
}

import { useState } from 'preact/hooks';
import { announce, Key } from '../../furniture';
import type { DefectRow, Definition, Place, Shop } from '../../services/shop';
import { type Bay, bayOf, bayWords, cellValue, foundIn, noBayWords, openIn } from './bay';
import { READING } from './begun';
import type { BayLooks } from './cells';
import { howOf, type Looking } from './looking';
import type { Structure } from './window';

export interface LookedAtProps {
  shop: Shop;
  definition: Definition;
  structure: Structure;
  place: Place;
  /** Records of the bay. */
  defects: DefectRow[];
  is_read: boolean;
  looking: Looking;
  looks: BayLooks;
  run: (work: () => Promise<void>) => void;
  /** Asks how it was looked at, before the first look of a day. */
  onHow: () => void;
}

/** The whole bay looked at; in a bay with open records it says that they stay open. */
export function LookedAtKey(props: LookedAtProps) {
  const { shop, structure, place, looking, defects, definition, looks, run } = props;
  const bay = bayOf(structure, place);
  const open = bay ? openIn(bay, defects, definition) : [];
  const found = bay ? foundIn(bay, defects, definition) : [];
  const [stored, setStored] = useState<string | null>(null);
  const look = async (at: Bay) => {
    await storeLook(shop, at, looking);
    setStored(bayWords(at));
  };
  const isStored = bay !== null && looks.looked && stored === bayWords(bay);
  return (
    <Key
      label={keyWords(bay, found.length > 0)}
      size="inside"
      place="k-looked"
      letters={20}
      second={
        bay ? (isStored ? 'stored: ' : '') + lookedWords(looking, found, open, looks) : undefined
      }
      unavailable={
        bay
          ? props.is_read && looking.is_read
            ? undefined
            : READING
          : noBayWords(structure, place)
      }
      onPress={() => bay && (howOf(looking) ? run(() => look(bay)) : props.onHow())}
    />
  );
}

/** Stores a look and says so. */
export async function storeLook(shop: Shop, at: Bay, looking: Looking): Promise<void> {
  await writeLook(shop, at, looking);
  announce(`${bayWords(at)} is stored as looked at.`);
}

/** Says of a bay that it was looked at, or why it could not be. */
export async function writeLook(
  shop: Shop,
  bay: Bay,
  looking: Looking,
  blocked?: string,
): Promise<void> {
  if (!shop.session) return;
  const { method, paint, survey } = looking;
  await shop.capture.lookedAt(shop.session, {
    cell: cellValue(bay),
    ...(blocked ? { looked_at: false, blocked } : { looked_at: true, method, paint }),
    ...(survey ? { survey } : {}),
  });
}

/** What is signed for stands as large as the act: the whole bay, every strake of its hand. */
export function keyWords(bay: Bay | null, has_records: boolean): string {
  const act = has_records ? 'LOOKED AT –\nNOTHING MORE FOUND' : 'LOOKED AT –\nNOTHING FOUND';
  if (!bay) return act;
  const all = bay.strakes ? `, ALL ${bay.strakes.join('–')}` : '';
  return `${act}\n${bayWords({ ...bay, strakes: null }).toUpperCase()}${all}`;
}

function lookedWords(
  looking: Looking,
  found: DefectRow[],
  open: DefectRow[],
  looks: BayLooks,
): string {
  const how = howOf(looking) ?? 'asks first how it was done';
  const records = openWords(open) || closedWords(found);
  return [how, records, beforeWords(looks)].filter(Boolean).slice(0, 2).join(', ');
}

/** "A/0001 is cleared". */
function closedWords(found: DefectRow[]): string {
  const [first] = found;
  if (!first) return '';
  if (found.length > 1) return `${found.length} records there`;
  return `${first.number} is ${(first.state ?? '').toLowerCase()}`;
}

function openWords(open: DefectRow[]): string {
  if (open.length === 0) return '';
  const numbers = open.map((row) => row.number).slice(0, 3);
  const rest = open.length > 3 ? ` and ${open.length - 3} more` : '';
  return `${numbers.join(', ')}${rest} ${open.length === 1 ? 'stays' : 'stay'} open`;
}

function beforeWords({ looked, blocked }: BayLooks): string {
  if (blocked) return `last time blocked: ${blocked}`;
  return looked ? 'looked at before' : '';
}

import { Key } from '../../furniture';
import type { DefectRow, Place, ScreenProps, Shop } from '../../services/shop';
import { READING } from './begun';
import { LastPicture } from './last_picture';
import { HereBefore } from './nearby';
import { lacking } from './still_to_finish';
import type { Structure } from './window';

export interface HereProps {
  shop: Shop;
  go: ScreenProps['go'];
  /** Records here, the nearest first, and the first of them that has a picture. */
  rows: DefectRow[];
  pictured: DefectRow | undefined;
  /** Whether the book was read: before that nothing is known of what is here. */
  is_read: boolean;
  /** The record that a new one here could be the same as. */
  asked: DefectRow | undefined;
  /** A message stands above and takes room. */
  is_told: boolean;
  /** The last draft that this person left open here. */
  draft: DefectRow | undefined;
  structure: Structure;
  place: Place;
  station: number;
  unit: string;
  mirrored: boolean;
  /** How many records the lead asked this tablet to look at again. */
  again: number;
  onAgain: () => void;
  onMirror: () => void;
  onQuery: (row: DefectRow) => void;
}

/** What was found here before, with its last picture, and what is said before the next one. */
export function Here(props: HereProps) {
  const { shop, go, rows, is_read, structure, place, station, unit, mirrored, draft } = props;
  const open = (row: DefectRow) => go(`/airframe/${(row.number ?? '').replace('/', '')}`);
  return (
    <div class="capture-here">
      <LastPicture shop={shop} row={props.pictured} />
      <div class="here-column">
        <HereBefore
          {...{ is_read, structure, place, station, unit }}
          rows={rows.filter((row) => row !== draft)}
          {...(draft || props.again || props.is_told ? { most: 1 } : {})}
          onOpen={open}
        />
        <div class="here-keys">
          {draft && (
            <Key
              label={`GO ON WITH ${draft.number}`}
              second={draftWords(draft)}
              place="here-draft"
              onPress={() => open(draft)}
            />
          )}
          {!draft && props.again > 0 && (
            <Key
              label="ASKED: LOOK AGAIN"
              second={props.again === 1 ? '1 record' : `${props.again} records`}
              place="here-draft"
              onPress={props.onAgain}
            />
          )}
          <QuerySame
            row={props.asked}
            none={noneWords(rows, is_read)}
            unavailable={shop.device?.letter ? undefined : 'a desk gives no numbers'}
            onQuery={props.onQuery}
          />
          <Key
            label={'NEXT PICTURE\nSEEN IN\nA MIRROR'}
            size="inside"
            letters={18}
            chosen={mirrored}
            onPress={props.onMirror}
          />
        </div>
      </div>
    </div>
  );
}

/** "your draft, F2, no kind". */
function draftWords(row: DefectRow): string {
  return ['your draft', row.member, ...lacking(row).slice(0, 1)].filter(Boolean).join(', ');
}

/** What a person raised here today, a draft, or a record that is the same as one, asks nothing. */
export function noneWords(rows: readonly DefectRow[], is_read: boolean): string {
  if (!is_read) return READING;
  return rows.length > 0 ? 'none but yours\nof today' : 'nothing recorded here';
}

/** Found before, so it seems: a record of its own all the same, which the lead decides about. */
function QuerySame(props: {
  row: DefectRow | undefined;
  /** Why there is none to ask about. */
  none: string;
  unavailable: string | undefined;
  onQuery: (row: DefectRow) => void;
}) {
  const { row, none } = props;
  return (
    <Key
      label={row ? `QUERY SAME,\n${row.number}` : 'QUERY SAME'}
      size="inside"
      letters={18}
      second={'both kept,\nlead decides'}
      unavailable={props.unavailable ?? (row ? undefined : none)}
      onPress={() => row && props.onQuery(row)}
    />
  );
}

/** What became of the last record: raised, with what to write on the metal, or left as a draft. */
export function Stored(props: { raised: string | undefined; dismissed: string | null }) {
  const { raised, dismissed } = props;
  if (dismissed)
    return (
      <output class="stored">
        <strong>{dismissed} is stored without a picture.</strong> MORE, STILL TO FINISH goes on with
        it.
      </output>
    );
  if (!raised) return null;
  return (
    <output class="stored">
      <strong>{raised} is raised and stored.</strong> Write {raised.replace('/', '')} beside it on
      the metal.
    </output>
  );
}

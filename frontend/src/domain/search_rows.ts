/** What a search asks of a row: its words, and where along its structure it lies. */

import { kindGroup, MATERIALS, rowOf } from './kinds';
import { type Definition, type Place, type Structure, strakeIndexes, structureOf } from './place';
import { bayAt, membersInOrder, spanTenthNm } from './place_stations';
import type { DefectRow } from './projection';

/** What is read of a row. */
export type SearchRow = Pick<
  DefectRow,
  | 'number'
  | 'also_numbers'
  | 'kind'
  | 'kind_words'
  | 'part'
  | 'place'
  | 'place_words'
  | 'station_text'
  | 'note'
  | 'tag'
  | 'disposition'
  | 'stage'
  | 'deciding'
  | 'state'
  | 'material'
  | 'zones'
  | 'structure'
  | 'hand'
  | 'member'
  | 'grade'
  | 'raised_on'
  | 'raised_by'
> &
  Partial<Pick<DefectRow, 'two_values' | 'states'>>;

/** What stands between words; everything else is a letter or a figure. */
const BETWEEN =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: what was pasted may hold any
  /[\x00-\x2f:-@[-`{-\xa0·×±≤≥−\u2000-\u206f\u3000\ufeff]+/g;
const TEXTS = [
  ...(['number', 'kind_words', 'kind', 'part', 'place_words', 'station_text', 'note'] as const),
  ...(['tag', 'disposition', 'stage', 'deciding', 'state'] as const),
];

/** The words of a text in small letters, a space between them. */
export function plain(text: string): string {
  return text
    .toLowerCase()
    .replace(BETWEEN, ' ')
    .replace(/^ +| +$/g, '');
}

/** A row as a search sees it; what few terms ask is worked out when they do. */
export class Sought {
  readonly group: string | null;
  private words: string | undefined;
  private ends: readonly [bigint, bigint] | null | undefined;

  constructor(
    readonly row: SearchRow,
    readonly definition: Definition | null,
  ) {
    this.group = kindGroup(row.kind);
  }

  /** All words of the row, a space before each. */
  get text(): string {
    this.words ??= this.read();
    return this.words;
  }

  /** The stations (0.1 nm) of the row's ends, or null where it has no place. */
  get along(): readonly [bigint, bigint] | null {
    if (this.ends === undefined) this.ends = this.asked(spanTenthNm);
    return this.ends;
  }

  /** The lower and upper strake of the row's place. */
  get strakes(): readonly [number, number] | null {
    return this.asked(strakeIndexes);
  }

  /** The member at or before the row's station. */
  get bay(): string | null {
    const { along } = this;
    if (along === null) return null;
    return this.asked((structure) => {
      return membersInOrder(structure).members[bayAt(structure, along[0])]?.name ?? null;
    });
  }

  private read(): string {
    const { row, definition } = this;
    const zones = definition?.zones.filter(({ zone }) => row.zones.includes(zone)) ?? [];
    const texts: unknown[] = [
      ...TEXTS.map((field) => row[field]),
      rowOf(MATERIALS, row.material)?.label,
      ...row.also_numbers,
      ...zones.map(({ title }) => title),
    ];
    return ` ${texts.flatMap((text) => (typeof text === 'string' ? plain(text) : [])).join(' ')}`;
  }

  private asked<T>(ask: (structure: Structure, place: Place) => T): T | null {
    const { place } = this.row;
    if (this.definition === null || place === null) return null;
    if (place.strakes && !Array.isArray(place.strakes)) return null;
    try {
      return ask(structureOf(this.definition, place), place);
    } catch {
      // A place may hold anything: another tablet's version, or no place at all.
      return null;
    }
  }
}

/** Place words as terms: members and ranges of them, strakes, hands, zones of a definition. */

import type { Definition, Structure } from './place';
import { inTenthNm } from './place_stations';
import type { Sought } from './search_rows';

export type Holds = (sought: Sought) => boolean;

const HANDS: Readonly<Record<string, readonly string[]>> = {
  P: ['p', 'port', 'left'],
  S: ['s', 'starboard', 'stbd', 'right'],
  C: ['c', 'centreline', 'centerline', 'centre', 'center'],
};
const FIGURED = /^[^0-9]*([0-9].*)$/;
const BARE = /^[0-9]+$/;
export const JOINS: readonly string[] = ['-', '–', '..'];

/** What a member is called: F12A, and 12A where letters follow the figures.

A member without figures is a word like others, and a bare figure may be anything. */
export function namesOf(member: string): string[] {
  const own = member.toLowerCase();
  const figured = FIGURED.exec(own)?.[1];
  if (figured === undefined) return [];
  return BARE.test(figured) || figured === own ? [own] : [own, figured];
}

/** A member of a structure, its station in 0.1 nm. */
interface Member {
  structure: string;
  name: string;
  station: bigint;
}

type Strake = readonly [structure: string, at: number];

/** The members, strakes, hands and zones by the words that people type for them. */
export class Places {
  private readonly members = new Map<string, Member[]>();
  private readonly strakes = new Map<string, Strake[]>();
  private readonly zones: string[];

  constructor(definition: Definition | null) {
    this.zones = definition?.zones.map(({ zone }) => zone) ?? [];
    for (const structure of definition?.structures ?? []) this.take(structure);
  }

  private take(structure: Structure): void {
    for (const { name, station: typed } of structure.members) {
      const member = { structure: structure.name, name, station: inTenthNm(structure, typed) };
      for (const phrase of namesOf(name)) put(this.members, phrase, member);
    }
    for (const [at, strake] of structure.strakes.entries()) {
      put(this.strakes, strake.toLowerCase(), [structure.name, at] as const);
    }
  }

  /** Each word for one place, and whether a row lies there; hands before strakes. */
  phrases(): [string, Holds][] {
    const hands = Object.entries(HANDS).flatMap(([hand, names]) =>
      names.map((name): [string, Holds] => [name, ({ row }) => row.hand === hand]),
    );
    const zones = this.zones.map((zone): [string, Holds] => [zone, inZone(zone)]);
    const members = [...this.members].flatMap(([phrase, some]) =>
      some.map((member): [string, Holds] => [phrase, atMember(member)]),
    );
    const isHand = (phrase: string) => Object.values(HANDS).some((some) => some.includes(phrase));
    const strakes = [...this.strakes]
      .filter(([phrase]) => !isHand(phrase))
      .flatMap(([phrase, some]) =>
        some.map(([name, at]): [string, Holds] => [phrase, onStrakes(name, at, at)]),
      );
    return [...hands, ...zones, ...members, ...strakes];
  }

  /** What lies from one member or strake to another: F10-F13, K–B1, F10..F13. */
  between(text: string): Holds[] {
    return JOINS.filter((join) => text.includes(join)).flatMap((join) => {
      const at = text.indexOf(join);
      return this.fromTo(text.slice(0, at), text.slice(at + join.length));
    });
  }

  private fromTo(first: string, last: string): Holds[] {
    const members = (this.members.get(first) ?? []).flatMap((one) =>
      (this.members.get(last) ?? [])
        .filter(({ structure }) => structure === one.structure)
        .map(({ station }) => between(one.structure, one.station, station)),
    );
    const strakes = (this.strakes.get(first) ?? []).flatMap(([name, at]) =>
      (this.strakes.get(last) ?? [])
        .filter(([other]) => other === name)
        .map(([, after]) => onStrakes(name, Math.min(at, after), Math.max(at, after))),
    );
    return [...members, ...strakes];
  }
}

function put<T>(bundles: Map<string, T[]>, phrase: string, one: T): void {
  const bundle = bundles.get(phrase);
  if (bundle) bundle.push(one);
  else bundles.set(phrase, [one]);
}

export function inZone(zone: string): Holds {
  return ({ row }) => row.zones.includes(zone);
}

/** Holds of a row placed by the member, in the bay aft of it, or running past it. */
function atMember({ structure, name, station }: Member): Holds {
  return (sought) => {
    const { row, along } = sought;
    if (row.structure !== structure) return false;
    const isPast = along !== null && along[0] <= station && station <= along[1];
    return row.member === name || sought.bay === name || isPast;
  };
}

function between(structure: string, one: bigint, other: bigint): Holds {
  const [low, high] = one < other ? [one, other] : [other, one];
  return ({ row, along }) =>
    row.structure === structure && along !== null && along[0] <= high && low <= along[1];
}

/** Two spans that only meet at a line are not on each other; a line is on what it touches. */
function onStrakes(structure: string, low: number, high: number): Holds {
  return ({ row, strakes }) => {
    if (row.structure !== structure || strakes === null) return false;
    const [from, to] = strakes;
    const isLine = low === high || from === to;
    return isLine ? from <= high && low <= to : from < high && low < to;
  };
}

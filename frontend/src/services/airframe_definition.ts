/** The definition that a description comes to, and the description of a definition. Nothing that a
 * definition holds is lost between them: what no table shows is kept beside the rows. */

import type { Definition } from '../domain/place';
import {
  type Description,
  figureText,
  handOf,
  handsOf,
  isYes,
  namesOf,
  type Plain,
  type Row,
  type StructureTyped,
  said,
} from './airframe_rows';
import { withViews } from './airframe_views';
import type { Json } from './shop';

/** A cell of a table that can't be what it should be: "zones/3/from". */
export interface CellTrouble {
  at: string;
  message: string;
}

export interface Defined {
  definition: Definition;
  troubles: CellTrouble[];
}

/** Returns the definition with its views drawn by code, and the cells that mean nothing. */
export function definitionOf(description: Description): Defined {
  const troubles: CellTrouble[] = [];
  const structures = description.structures.map((one) => structureOf(one, description.unit));
  const tell = (at: string, message: string) => void troubles.push({ at, message });
  const zones = said(description.zones).map((row, at) =>
    zoneOf(row, structures, description.access, (cell, message) =>
      tell(`zones/${at}/${cell}`, message),
    ),
  );
  said(description.access).forEach((row, at) => {
    if (!zones.some((zone) => zone.zone === row.zone?.trim()))
      tell(`access/${at}/zone`, `There is no zone ${row.zone || '–'} to go by it.`);
  });
  const off = said(description.off_aircraft).map((row) => ({
    ...keptOf(row),
    name: trim(row.name),
  }));
  const definition = {
    name: description.name.trim(),
    constructor: description.constructor_number.trim(),
    issue: description.issue.trim(),
    unit: description.unit,
    ...(off.length > 0 ? { off_aircraft: off } : {}),
    ...{ structures, zones, views: description.views },
    ...parsed(description.kept),
  };
  return { definition: withViews(definition as unknown as Definition), troubles };
}

function structureOf(typed: StructureTyped, unit: string): Plain {
  const strakes = namesOf(typed.strakes);
  const plates = said(typed.plates).map((row) => plateOf(row, strakes));
  const plating = plates.filter((one) => one.is_plating).map((one) => one.plain);
  return {
    name: typed.name.trim(),
    axis: typed.axis.trim(),
    unit: typed.unit || unit,
    datum: typed.datum.trim(),
    positive: typed.positive.trim(),
    hands: handsOf(typed.hands),
    members: said(typed.members).map(memberOf),
    strakes,
    plating,
    parts: plates.map(({ plain: { strakes: _, ...part } }) => part),
    faces: namesOf(typed.faces),
    ...parsed(typed.kept),
  };
}

/** Kinds by their first letters, for who types a hundred. */
const KINDS = new Map([
  ['', 'frame'],
  ['f', 'frame'],
  ['h', 'half frame'],
  ['half', 'half frame'],
  ['r', 'rib'],
  ['b', 'bulkhead'],
  ['s', 'spar'],
  ['fo', 'former'],
]);

function memberOf(row: Row): Plain {
  const { main, kind, added, ...rest } = row;
  return {
    name: trim(rest.name),
    kind: KINDS.get(trim(kind).toLowerCase()) ?? trim(kind),
    station: figureText(rest.station ?? ''),
    ...(isYes(main) ? { main: true } : {}),
    ...(trim(rest.thickness) ? { thickness: figureText(rest.thickness ?? '') } : {}),
    ...(trim(rest.upper_station) ? { upper_station: figureText(rest.upper_station ?? '') } : {}),
    ...(trim(rest.written) ? { written: trim(rest.written) } : {}),
    ...(isYes(added) ? { added: 'by repair' } : {}),
    ...keptOf(row),
  };
}

function plateOf(row: Row, strakes: readonly string[]): { plain: Plain; is_plating: boolean } {
  const { plating = false, ...kept } = keptOf(row);
  const ends = [trim(row.low), trim(row.high)];
  const range = ends.some(Boolean) ? rangeOf(ends[0] ?? '', ends[1] ?? '', strakes) : null;
  const named = {
    ...{ part: trim(row.part), thickness: figureText(row.thickness ?? '') },
    ...{ material: trim(row.material).toUpperCase() || 'AL' },
  };
  return {
    plain: { ...(range ? { strakes: range } : {}), ...named, ...kept },
    is_plating: range !== null || plating === true,
  };
}

/** From one strake line to another, half open; the last line itself belongs to what reaches it. */
function rangeOf(low: string, high: string, strakes: readonly string[]): [number, number] {
  const from = low === '' ? 0 : strakes.indexOf(low);
  const at = high === '' ? -1 : strakes.indexOf(high);
  if (high !== '' && at < 0) return [from, -1];
  return [from, at < 0 || at === strakes.length - 1 ? strakes.length : at];
}

type Tell = (cell: string, message: string) => void;

function zoneOf(row: Row, structures: readonly Plain[], access: Row[], tell: Tell): Plain {
  const wanted = trim(row.structure);
  const only = structures.length === 1 && wanted === '' ? structures[0] : undefined;
  const structure = only ?? structures.find((one) => one.name === wanted);
  if (!structure) tell('structure', `There is no structure called ${wanted || '–'}.`);
  const along = [row.from, row.to].map((text, at) =>
    boundOf(trim(text), structure, (message) => tell(at === 0 ? 'from' : 'to', message)),
  );
  const strakes = strakesOf(row, (structure?.strakes ?? []) as string[], tell);
  const name = trim(row.zone);
  const items = said(access).filter((item) => trim(item.zone) === name);
  const { unlimited, ...kept } = keptOf(row);
  return {
    ...{ zone: name, title: trim(row.title) || `Zone ${name}` },
    structure: (structure?.name as string | undefined) ?? wanted,
    ...(trim(row.hand) ? { hand: handOf(row.hand ?? '') } : {}),
    ...(along.some((end) => end !== null) ? { along } : {}),
    ...(strakes ? { strakes } : {}),
    ...(items.length > 0 ? { access: items.map(accessOf) } : {}),
    ...(isYes(row.confined) ? { confined: true } : {}),
    ...((unlimited ?? {}) as Plain),
    ...kept,
  };
}

/** A station as text, by its figure or by the member that stands there; nothing typed is no bound. */
function boundOf(text: string, structure: Plain | undefined, tell: (message: string) => void) {
  if (text === '') return null;
  const members = (structure?.members ?? []) as Plain[];
  const member = members.find((one) => one.name === text);
  if (member) return member.station as string;
  const figure = figureText(text);
  if (/^-?\d*\.?\d+$/.test(figure)) return figure;
  tell(`“${text}” is no member of ${structure?.name ?? 'it'} and no station.`);
  return text;
}

function strakesOf(row: Row, names: readonly string[], tell: Tell): [number, number] | null {
  const [low, high] = [trim(row.low), trim(row.high)];
  if (low === '' && high === '') return null;
  for (const [cell, name] of [
    ['low', low],
    ['high', high],
  ] as const)
    if (name !== '' && !names.includes(name)) tell(cell, `There is no strake called ${name}.`);
  return rangeOf(low, high, names);
}

function accessOf(row: Row): Plain {
  const fixings = trim(row.fixings);
  const number = /^\d+$/.test(fixings) ? Number(fixings) : fixings;
  return {
    ...{ name: trim(row.name), kind: trim(row.kind) || 'panel' },
    ...(fixings ? { fixings: number } : {}),
    ...keptOf(row),
  };
}

// ---- and back

const STRUCTURE_SHOWN = ['name', 'axis', 'unit', 'datum', 'positive', 'hands', 'members'];
const SHOWN = {
  definition: ['name', 'constructor', 'issue', 'unit', 'structures', 'zones', 'views'],
  structure: [...STRUCTURE_SHOWN, 'strakes', 'plating', 'parts', 'faces'],
  member: ['name', 'kind', 'station', 'thickness', 'upper_station', 'written'],
  plate: ['part', 'thickness', 'material', 'strakes'],
  zone: ['zone', 'title', 'structure', 'along', 'strakes', 'access', 'hand'],
  access: ['name', 'kind', 'fixings'],
};

/** Returns the rows of a definition, as they were typed or could have been. */
export function describe(definition: Definition): Description {
  const plain = definition as unknown as Plain;
  const structures = (plain.structures ?? []) as Plain[];
  const zones = (plain.zones ?? []) as Plain[];
  return {
    ...{ name: text(plain.name), constructor_number: text(definition.constructor) },
    ...{ issue: text(plain.issue), unit: text(plain.unit) || 'in' },
    structures: structures.map(structureTyped),
    zones: zones.map((zone) => zoneTyped(zone, structures)),
    access: zones.flatMap((zone) =>
      ((zone.access ?? []) as Plain[]).map((item) => ({
        zone: text(zone.zone),
        ...rowOf(item, SHOWN.access, []),
      })),
    ),
    off_aircraft: ((plain.off_aircraft ?? []) as Plain[]).map((one) => rowOf(one, ['name'], [])),
    views: (plain.views ?? []) as Json[],
    // The next issue replaces this one, whatever this one replaced.
    kept: keptText(plain, [...SHOWN.definition, 'off_aircraft', 'replaces']),
  };
}

function structureTyped(plain: Plain): StructureTyped {
  const strakes = (plain.strakes ?? []) as string[];
  const list = (value: Json | undefined) => ((value ?? []) as string[]).join(', ');
  const plating = (plain.plating ?? []) as Plain[];
  const parts = ((plain.parts ?? []) as Plain[]).filter(
    (part) => !plating.some((one) => one.part === part.part),
  );
  return {
    ...{ name: text(plain.name), axis: text(plain.axis), unit: text(plain.unit) },
    ...{ datum: text(plain.datum), positive: text(plain.positive) },
    hands: ((plain.hands ?? []) as string[]).join(' '),
    ...{ faces: list(plain.faces), strakes: list(plain.strakes) },
    members: ((plain.members ?? []) as Plain[]).map(memberTyped),
    plates: [
      ...plating.map((one) => plateTyped(one, strakes, true)),
      ...parts.map((one) => plateTyped(one, strakes, false)),
    ],
    kept: keptText(plain, SHOWN.structure),
  };
}

function memberTyped(plain: Plain): Row {
  const row = rowOf(plain, SHOWN.member, [
    ...(plain.main === true ? ['main'] : []),
    ...(plain.added === 'by repair' ? ['added'] : []),
  ]);
  if (plain.main === true) row.main = 'yes';
  if (plain.added === 'by repair') row.added = 'yes';
  return row;
}

function plateTyped(plain: Plain, strakes: readonly string[], is_plating: boolean): Row {
  const range = plain.strakes as [number, number] | undefined;
  const { strakes: _, ...rest } = plain;
  const row = rowOf(rest, SHOWN.plate, []);
  if (range) return { ...row, low: strakes[range[0]] ?? '', high: strakes[range[1]] ?? '' };
  return is_plating ? withKept(row, { plating: true }) : row;
}

function zoneTyped(zone: Plain, structures: readonly Plain[]): Row {
  const structure = structures.find((one) => one.name === zone.structure);
  const strakes = (structure?.strakes ?? []) as string[];
  const { along, strakes: range, hand, confined, ...rest } = zone;
  const named = (bound: Json | undefined) =>
    bound == null ? '' : (memberAt(structure, text(bound)) ?? text(bound));
  const [from, to] = (along ?? []) as Json[];
  const row = rowOf(rest, SHOWN.zone, []);
  const [low, high] = (range ?? []) as number[];
  const nulls = ['along', 'strakes', 'hand'].filter((name) => zone[name] === null);
  const typed = {
    ...row,
    ...{ hand: text(hand), from: named(from), to: named(to) },
    low: low === undefined ? '' : (strakes[low] ?? ''),
    high: high === undefined ? '' : (strakes[high] ?? ''),
    confined: confined === true ? 'yes' : '',
  };
  return nulls.length > 0
    ? withKept(typed, { unlimited: Object.fromEntries(nulls.map((name) => [name, null])) })
    : typed;
}

/** The name of the member that stands at a station, written as the station is. */
function memberAt(structure: Plain | undefined, station: string): string | undefined {
  const members = (structure?.members ?? []) as Plain[];
  return members.find((one) => one.station === station)?.name as string | undefined;
}

function rowOf(plain: Plain, shown: readonly string[], further: readonly string[]): Row {
  const row: Row = {};
  for (const name of shown)
    if (plain[name] !== undefined && typeof plain[name] !== 'object') row[name] = text(plain[name]);
  const kept = keptText(plain, [...shown, ...further]);
  return kept ? { ...row, kept } : row;
}

function withKept(row: Row, more: Plain): Row {
  return { ...row, kept: JSON.stringify({ ...keptOf(row), ...more }) };
}

function keptOf(row: Row): Plain {
  return parsed(row.kept ?? '');
}

function keptText(plain: Plain, shown: readonly string[]): string {
  const rest = Object.entries(plain).filter(([name]) => !shown.includes(name));
  return rest.length > 0 ? JSON.stringify(Object.fromEntries(rest)) : '';
}

function parsed(kept: string): Plain {
  return kept ? (JSON.parse(kept) as Plain) : {};
}

function trim(value: string | undefined): string {
  return (value ?? '').trim();
}

function text(value: Json | undefined): string {
  return typeof value === 'string' ? value : typeof value === 'number' ? String(value) : '';
}

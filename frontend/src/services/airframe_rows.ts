/** An airframe as a lead types it: rows of texts, which may be half finished. */

import type { Json } from './shop';

/** One line of a table: texts by column. `kept` is JSON that no table shows and that must stay. */
export type Row = Record<string, string>;
export type Plain = Record<string, Json>;

export interface StructureTyped {
  name: string;
  axis: string;
  unit: string;
  datum: string;
  positive: string;
  /** "P S C". */
  hands: string;
  faces: string;
  /** From the keel outwards: "K, B1–B3, C". */
  strakes: string;
  members: Row[];
  plates: Row[];
  kept: string;
}

export interface Description {
  name: string;
  constructor_number: string;
  issue: string;
  unit: string;
  structures: StructureTyped[];
  zones: Row[];
  access: Row[];
  off_aircraft: Row[];
  /** Views as the definition has them; those drawn by code are made anew. */
  views: Json[];
  kept: string;
}

export const BLANK_STRUCTURE: StructureTyped = {
  ...{ name: '', axis: 'Sta', unit: '', datum: '', positive: 'aft', hands: 'P S C' },
  ...{ faces: 'inner, outer', strakes: '', members: [], plates: [], kept: '' },
};

export const BLANK: Description = {
  ...{ name: '', constructor_number: '', issue: '1', unit: 'in' },
  ...{ structures: [], zones: [], access: [], off_aircraft: [], views: [], kept: '' },
};

/** Whether nothing is typed in a row. */
export function isBlank(row: Row): boolean {
  return Object.values(row).every((text) => text.trim() === '');
}

/** The rows that say something: those the definition gets, in their order. */
export function said(rows: readonly Row[]): Row[] {
  return rows.filter((row) => !isBlank(row));
}

/** The row of a table that became the definition's `at`th. */
export function rowAt(rows: readonly Row[], at: number): number {
  const places = rows.flatMap((row, place) => (isBlank(row) ? [] : [place]));
  return places[at] ?? rows.length;
}

const SEPARATORS = /[,;\s]+/;
const RUN = /^([A-Za-z]*)(\d{1,3})[-–](?:([A-Za-z]*)(\d{1,3}))$/;

/** "K, B1–B3, C" as names; a run counts up. Names with spaces are set apart by commas or lines. */
export function namesOf(text: string): string[] {
  const parts = /[,;\n]/.test(text) ? text.split(/[,;\n]+/) : text.split(SEPARATORS);
  return parts
    .map((part) => part.trim())
    .filter(Boolean)
    .flatMap(runOf);
}

function runOf(part: string): string[] {
  const found = RUN.exec(part);
  if (!found) return [part];
  const [, letters = '', first = '', other = '', last = ''] = found;
  const [from, to] = [Number(first), Number(last)];
  if ((other !== '' && other !== letters) || to <= from) return [part];
  return Array.from({ length: to - from + 1 }, (_, at) => `${letters}${from + at}`);
}

/** "P S C", "port, starboard": the hands meant; whatever else is typed stays as it is. */
export function handsOf(text: string): string[] {
  return text.split(SEPARATORS).filter(Boolean).map(handOf);
}

export function handOf(text: string): string {
  const first = text.trim().charAt(0).toUpperCase();
  return /^(p|port|s|stbd|starboard|c|centreline|centre)$/i.test(text.trim()) ? first : text.trim();
}

/** "yes", "y", "x": anything but nothing and no. */
export function isYes(text: string | undefined): boolean {
  return !/^\s*(no|n|-|–)?\s*$/i.test(text ?? '');
}

/** A figure as typed, with a point and an ordinary minus. */
export function figureText(text: string): string {
  return text.trim().replaceAll('\u2212', '-').replace(',', '.').replace(/^\+/, '');
}

/** What a desk asks the server about the standard of acceptance, and the limits in its rows. */

import type { DefinitionTrouble } from './airframes';
import type { Api, Json } from './shop';

export interface StandardListed {
  record: string;
  name: string;
  issue: string;
  sha256: string;
}

export interface Basis {
  text: string;
  source: string;
  marker: string;
}

/** A row as its file has it; what this page does not change stays as it is. */
export interface StandardRow {
  rule: string;
  material: string[] | 'any';
  kinds: string[] | 'any';
  when: Json;
  grade: number;
  text: string;
  basis: Basis;
}

export interface StandardFile {
  name: string;
  issue: string;
  title?: string;
  rows: StandardRow[];
}

/** A limit in a condition: where it lies, its sign, and its figure as it is typed. */
export interface Limit {
  path: (string | number)[];
  sign: string;
  value: string;
  unit: string;
}

export const MARKERS = [
  'source read',
  'source read, secondary',
  'derived',
  'from memory',
  'common practice, no source',
  "workshop's own",
] as const;

const SIGNS: Record<string, string> = { over: '>', at_least: '≥', under: '<', at_most: '≤' };
const PERCENT = ['share', 'percent'];

/** The issues of the book, the one that stands first. */
export function listStandards(api: Api): Promise<StandardListed[]> {
  return api.get<StandardListed[]>('/api/standards');
}

/** An issue as its file has it. */
export function standardOf(api: Api, { record }: StandardListed): Promise<StandardFile> {
  return api.get(`/api/standards/${record}.json`) as unknown as Promise<StandardFile>;
}

/** Asks what is wrong with a standard; nothing is stored. */
export async function checkStandard(api: Api, made: StandardFile): Promise<DefinitionTrouble[]> {
  const body = { standard: made as unknown as Json };
  return (await api.post<{ troubles: DefinitionTrouble[] }>('/api/standards/check', body)).troubles;
}

/** Stores the next issue; no record is graded by it until *Grade again*. */
export function issueStandard(api: Api, made: StandardFile, reason: string): Promise<Json> {
  return api.post('/api/standards', { standard: made as unknown as Json, reason });
}

/** The limits of a condition, in the order in which they are written. */
export function limitsOf(when: Json, path: (string | number)[] = []): Limit[] {
  if (Array.isArray(when)) return when.flatMap((one, at) => limitsOf(one, [...path, at]));
  if (typeof when !== 'object' || when === null) return [];
  return Object.entries(when).flatMap(([name, one]) => {
    if (name in SIGNS) return [limitAt(one, name, [...path, name], when)];
    return name === 'any' || name === 'all' ? limitsOf(one, [...path, name]) : [];
  });
}

function limitAt(one: Json, name: string, path: (string | number)[], when: object): Limit {
  const sign = SIGNS[name] as string;
  if (typeof one === 'object' && one !== null && !Array.isArray(one)) {
    const { value, unit } = one as { value?: Json; unit?: Json };
    return { path: [...path, 'value'], sign, value: String(value ?? ''), unit: String(unit ?? '') };
  }
  const unit = PERCENT.some((subject) => subject in when) ? '%' : '';
  return { path, sign, value: String(one), unit };
}

/** The same condition with one limit typed anew. */
export function withLimit(when: Json, [step, ...rest]: (string | number)[], value: string): Json {
  if (step === undefined) return value;
  if (Array.isArray(when))
    return when.map((one, at) => (at === step ? withLimit(one, rest, value) : one));
  const held = when as { [name: string]: Json };
  return { ...held, [step]: withLimit(held[step] as Json, rest, value) };
}

/** The number after the last issue, where that is one. */
export function nextIssue(issue: string): string {
  return /^\d+$/.test(issue) ? String(Number(issue) + 1) : issue;
}

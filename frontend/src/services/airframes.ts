/** What a desk asks the server about airframes and their definitions. */

import type { Definition } from '../domain/place';
import type { Row } from './airframe_rows';
import type { Api, Json } from './shop';

export interface AirframeListed {
  record: string;
  type: string;
  constructor: string;
  definition: { name: string; issue: string; sha256: string } | null;
}

export interface DefinitionTrouble {
  /** Where in the definition: "structures/0/members/3". */
  at: string;
  code: string;
  message: string;
  hint: string;
  /** A trouble that is only said does not stand in the way of an issue. */
  weight: 'refused' | 'said';
}

/** A record that is described anew, and never moved. */
export interface Moved {
  number: string;
  entered: string;
  now: string;
}

export interface Checked {
  troubles: DefinitionTrouble[];
  zones: { gaps: string[]; overlaps: string[] };
  cells: number;
  moved: Moved[];
}

export interface LineTrouble {
  line: number;
  column: string;
  message: string;
}

export interface MembersRead {
  members: { [field: string]: Json }[];
  troubles: LineTrouble[];
}

/** The airframes of the book, by constructor's number. */
export async function listAirframes(api: Api): Promise<AirframeListed[]> {
  const listed = await api.get<AirframeListed[]>('/api/airframes');
  return [...listed].sort((one, two) => one.constructor.localeCompare(two.constructor, 'en'));
}

/** Finds an airframe by constructor's number, else by record. */
export function airframeNamed(
  listed: readonly AirframeListed[],
  name: string,
): AirframeListed | undefined {
  return (
    listed.find((one) => one.constructor === name) ?? listed.find((one) => one.record === name)
  );
}

/** Asks what is wrong with a definition; nothing is stored. */
export function checkDefinition(
  api: Api,
  definition: Definition,
  airframe: string | null,
): Promise<Checked> {
  const body = { definition: definition as unknown as Json, ...(airframe ? { airframe } : {}) };
  return api.post<Checked>('/api/definitions/check', body);
}

/** Reads lines, a pasted table or CSV as members. */
export async function readMembers(
  api: Api,
  asked: { structure: string; unit: string; text: string },
): Promise<{ members: Row[]; troubles: LineTrouble[] }> {
  const read = await api.post<MembersRead>('/api/definitions/members', asked);
  return { members: read.members.map(memberRow), troubles: read.troubles };
}

function memberRow(member: { [field: string]: Json }): Row {
  const row: Row = {};
  for (const [name, value] of Object.entries(member)) {
    if (value === null || value === false) continue;
    if (name === 'added') row.added = value === 'by repair' ? 'yes' : '';
    else row[name] = value === true ? 'yes' : String(value);
  }
  return row;
}

/** Stores a new airframe, or the next issue of one; answers with its record. */
export async function issueDefinition(
  api: Api,
  definition: Definition,
  airframe: string | null,
  reason: string,
): Promise<string> {
  const body = { definition: definition as unknown as Json };
  if (airframe !== null) {
    await api.post(`/api/airframes/${airframe}/definition`, { ...body, reason });
    return airframe;
  }
  const made = await api.post<{ record?: string; airframe?: string }>('/api/airframes', body);
  return made.record ?? made.airframe ?? '';
}

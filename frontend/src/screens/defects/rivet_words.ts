/** A rivet line as its sheet says it. */

import { Refused } from '../../domain/errors';
import {
  decimalText,
  isQuantity,
  type Quantity,
  scaled,
  tenthNmOrNull,
} from '../../domain/quantities';
import { type Line, rivetLine, type Survey } from '../../domain/rivet_line';
import type { Run } from '../../domain/rivet_line_states';
import type { DefectRow, Definition, Json } from '../../services/shop';

export interface RecordedLine {
  record: string;
  name: string;
  line: Line;
  /** Station of rivet 1. */
  first_station: Quantity | null;
}

/** A record of kind `rivet_line` as `domain/rivet_line` takes it. */
export function lineOf(values: { record: string } & Record<string, Json>): RecordedLine {
  const { design, as_found, as_now, holes, first_station } = values;
  const found = typeof as_found === 'string' ? as_found : '';
  const line = {
    ...(isMap(design) ? design : {}),
    as_found: found,
    as_now: typeof as_now === 'string' && as_now ? as_now : found,
    holes: isMap(holes) ? holes : {},
  };
  return {
    record: values.record,
    name: typeof values.name === 'string' ? values.name : 'Rivet line',
    line: line as unknown as Line,
    first_station: isQuantity(first_station) ? first_station : null,
  };
}

const isMap = (value: Json | undefined): value is Record<string, Json> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** "WS 92.5625 to 145.4375": where rivet 1 and the last one lie, where both figures are given. */
export function alongWords(
  { line, first_station: first }: RecordedLine,
  row: Pick<DefectRow, 'structure'>,
  definition: Definition | null,
): string {
  if (!first) return '';
  const structure = definition?.structures.find(({ name }) => name === row.structure);
  const axis = structure?.axis ?? 'station';
  const { pitch } = line;
  const isRead = tenthNmOrNull(first) !== null && tenthNmOrNull(pitch) !== null;
  if (!pitch || !isRead || pitch.unit !== first.unit) return `rivet 1 at ${axis} ${first.value}`;
  const last = sumText(first.value, pitch.value, BigInt(line.as_found.length - 1));
  return `rivet 1 at ${axis} ${first.value}, ${line.as_found.length} at ${last} ${first.unit}`;
}

/** A figure and so many times another, exactly. */
function sumText(figure: string, step: string, times: bigint): string {
  const places = Math.max(...[figure, step].map((one) => one.split('.')[1]?.length ?? 0));
  const unit = 10n ** BigInt(places);
  const [one, other] = [scaled(figure, unit), scaled(step, unit)];
  return decimalText((one ?? 0n) + (other ?? 0n) * times, places);
}

/** The survey of a line, or why it can't be read. */
export function surveyOf(line: Line): { survey: Survey | null; problem: string | null } {
  try {
    return { survey: rivetLine(line), problem: null };
  } catch (error) {
    if (error instanceof Refused) return { survey: null, problem: error.message };
    throw error;
  }
}

/** "5 L, 11–12 W, 13 C": the holes that are not sound, neighbours of one state together. */
export function stateText(states: string): string {
  const runs: { state: string; from: number; to: number }[] = [];
  for (const [at, state] of [...states].entries()) {
    const last = runs.at(-1);
    if (last?.state === state) last.to = at + 1;
    else runs.push({ state, from: at + 1, to: at + 1 });
  }
  const told = runs
    .filter(({ state }) => state !== 'S')
    .map(({ state, from, to }) => `${from === to ? from : `${from}–${to}`} ${state}`);
  return told.join(', ') || 'all sound';
}

/** "18–23: 6 in a row not effective". */
export function runText({ length, from, to }: Run): string {
  if (length === 0) return 'none in a row';
  return length === 1 ? `hole ${from} alone` : `${from}–${to}: ${length} in a row not effective`;
}

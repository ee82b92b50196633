/** The airframe definition and the standard that the row of a defect is made with. */

import type { Compiled, Grading } from '../domain/grading';
import { gradeWithLines } from '../domain/grading_line';
import type { Definition } from '../domain/place';
import { differing, settledValue, type Values } from '../domain/values';
import { isFields } from '../domain/verdicts';
import { pinnedStandard } from './grades';
import type { StandingRow, Transaction } from './schema';
import { readJson } from './shelf';

/** Finds definitions, each airframe looked up once a transaction. */
export class Definitions {
  private readonly found = new Map<string, Promise<Definition | null>>();

  constructor(private readonly tx: Transaction) {}

  /** The definition of a defect's airframe, if it is settled and its file is here. */
  async of(row: StandingRow): Promise<Definition | null> {
    const airframe = settledValue('defect', row.values, 'airframe');
    if (typeof airframe !== 'string') return null;
    const known = this.found.get(airframe) ?? this.find(airframe);
    this.found.set(airframe, known);
    return known;
  }

  private async find(airframe: string): Promise<Definition | null> {
    const pins = pinsIn(await this.tx.objectStore('standing').get(airframe), 'definition');
    // Of several the last written stands, as on the server.
    const pin = pins.at(-1);
    const sha256 = isFields(pin) ? pin.sha256 : null;
    const file = typeof sha256 === 'string' ? await readJson(this.tx, sha256) : null;
    return isFields(file) ? (file as unknown as Definition) : null;
  }
}

/** The standard a defect is graded by; of several that by which it is worst, with its `lines`. */
export async function standardOf(
  tx: Transaction,
  row: StandingRow,
  lines: Lines,
): Promise<Compiled | null> {
  const pins = differing('defect', row.values, 'standard').filter(isFields);
  const files = new Map<string, unknown>();
  for (const { sha256 } of pins) {
    if (typeof sha256 === 'string') files.set(sha256, await readJson(tx, sha256));
  }
  const found = pins.flatMap((pin) => pinnedStandard(pin, (one) => files.get(one)) ?? []);
  if (found.length < 2) return found[0] ?? null;
  const grade = (one: Compiled) => gradeWithLines(row.values, lines, one);
  return found.reduce((worst, one) => (isWorse(grade, one, worst) ? one : worst));
}

function pinsIn(row: StandingRow | undefined, field: string): unknown[] {
  const ids = Object.keys(row?.values ?? {}).sort();
  return ids.flatMap((id) => {
    const fields = row?.values[id] ?? {};
    return Object.hasOwn(fields, field) ? [fields[field]] : [];
  });
}

type Lines = Readonly<Record<string, Values>>;
type Grade = (standard: Compiled) => Grading;

function isWorse(grade: Grade, one: Compiled, other: Compiled): boolean {
  const [mine, its] = [badness(grade, one), badness(grade, other)];
  const at = mine.findIndex((part, index) => part !== its[index]);
  return at >= 0 && (mine[at] as number | string) > (its[at] as number | string);
}

function badness(grade: Grade, standard: Compiled): [number, number, string] {
  const grading = grade(standard);
  return [grading.grade ?? -1, grading.known ? 0 : 1, standard.name];
}

/** The survey of a rivet line: how bad, what size next, what to draw from stores.

A sorting aid: the share is worked out from catalogue strengths, whose basis is named with it, and a
size that fails a check is for the design authority, who alone chooses another way. */

import {
  type Decision,
  type Demand,
  decide,
  demand,
  pitchNotes,
  thumbNote,
} from './rivet_line_decisions';
import {
  fittedIn,
  type Hole,
  type Line,
  type Read,
  type Rivet,
  readLine,
} from './rivet_line_holes';
import {
  loadOf,
  loadsOf,
  pounds,
  share,
  thinSheet,
  type Worst,
  worstInRow,
} from './rivet_line_shear';
import { alloyOf, type Basis, LIMITS, ORDER, oversizeAllowed } from './rivet_line_sizes';
import { countsOf, longestRun, notEffective, type Run } from './rivet_line_states';

export type { HoleRecord, Line } from './rivet_line_holes';

export interface Condition {
  counts: Record<string, number>;
  not_effective: number;
  run: Run;
  possible_run: Run;
  share: { low: string; high: string };
  worst_six: Worst;
  heads_off: boolean;
}

export interface Survey {
  holes: number;
  as_found: Condition;
  as_now: Condition;
  allowable: { diameter: string; alloy: string; pounds: string; basis: Basis }[];
  bearing: string;
  decisions: Decision[];
  demand: Demand[];
  held: number[];
  not_reached: number[];
  warnings: string[];
}

const MOST_ADJACENT = 2;

/** What a rivet line comes to, as found and now; refused where a state, size, alloy, head or figure
is none, or the holes found and now differ. */
export function rivetLine(line: Line): Survey {
  const read = readLine(line);
  const decisions = decide(read);
  const isHeld = ({ result }: Decision) => !result.startsWith('renew');
  return {
    holes: read.holes.length,
    as_found: conditionOf(read, true),
    as_now: conditionOf(read, false),
    allowable: allowableOf(read, decisions),
    bearing: read.f_bru_psi === null ? 'bearing not checked' : 'lower of shear and bearing',
    decisions,
    demand: demand(decisions, read),
    held: decisions.filter(isHeld).map((one) => one.hole),
    not_reached: read.holes.filter((hole) => hole.now === 'N').map((hole) => hole.at),
    warnings: warningsOf(read, decisions),
  };
}

function conditionOf(line: Read, found: boolean): Condition {
  const states = line.holes.map((hole) => (found ? hole.found : hole.now)).join('');
  const low = loadsOf(line, found);
  return {
    counts: countsOf(states),
    not_effective: notEffective(states).length,
    run: longestRun(states),
    possible_run: longestRun(states, true),
    share: { low: share(low), high: share(loadsOf(line, found, true)) },
    worst_six: worstInRow(low),
    heads_off: states.includes('T'),
  };
}

/** The allowable load of each rivet that is in the line or goes into it. */
function allowableOf(line: Read, decisions: readonly Decision[]): Survey['allowable'] {
  const used = new Map<string, [Rivet, Hole]>();
  const use = (rivet: Rivet, hole: Hole) =>
    used.set(`${rivet.alloy} ${rivet.diameter}`, [rivet, hole]);
  for (const hole of line.holes) use(hole.designed, hole);
  for (const hole of line.holes) if ('RV'.includes(hole.now)) use(fittedIn(hole, hole.now), hole);
  for (const { diameter, hole: at } of decisions) {
    const hole = line.holes[at - 1];
    if (diameter !== null && hole) use({ ...hole.designed, diameter }, hole);
  }
  return [...used.values()]
    .sort(([a], [b]) => bySize(a, b))
    .map(([rivet, hole]) => ({
      ...rivet,
      pounds: pounds(loadOf(rivet, hole.sheets, line)),
      basis: alloyOf(rivet.alloy).shear[line.basis].basis,
    }));
}

function bySize(a: Rivet, b: Rivet): number {
  if (a.alloy !== b.alloy) return a.alloy < b.alloy ? -1 : 1;
  return ORDER.indexOf(a.diameter) - ORDER.indexOf(b.diameter);
}

function warningsOf(line: Read, decisions: readonly Decision[]): string[] {
  const told = [
    ...line.holes.flatMap((hole) => pitchNotes(line, hole.designed.diameter)),
    ...line.holes.flatMap((hole) => thumbNote(hole.sheets, hole.designed.diameter) ?? []),
    ...decisions.flatMap(({ diameter, hole }) => {
      const sheets = line.holes[hole - 1]?.sheets ?? [];
      return (diameter !== null && thumbNote(sheets, diameter)) || [];
    }),
    ...thinSheet(line)
      .slice(0, 1)
      .map((at) => `Sheet under 0.18 D at hole ${at}: reduction for thin sheet not checked.`),
  ];
  return [...new Set(told), ...oversizeWarnings(line, decisions)];
}

function oversizeWarnings(line: Read, decisions: readonly Decision[]): string[] {
  const larger = decisions.filter((one) => one.result === 'renew oversize');
  const chosen = new Set(larger.map((one) => one.hole));
  const isOversize = ({ now, at }: Hole) => now === 'V' || chosen.has(at);
  const marks = line.holes.map((hole) => (isOversize(hole) ? 'V' : '-')).join('');
  const count = line.holes.filter(isOversize).length;
  const most = oversizeAllowed(line.holes.length);
  const { source } = LIMITS.oversize;
  const isAdjacent = marks.includes('V'.repeat(MOST_ADJACENT + 1));
  return [
    ...(count > most
      ? [`${count} oversize of ${line.holes.length}; ${source} has ${most} at most.`]
      : []),
    ...(isAdjacent
      ? [`More than ${MOST_ADJACENT} oversize side by side; ${source} asks for more.`]
      : []),
  ];
}

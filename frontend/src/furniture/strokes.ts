export interface Point {
  x: number;
  y: number;
}

export interface RingStroke {
  /** Path of the one stroke. */
  d: string;
  /** How far round it goes: 385–395°, so that its ends overlap. */
  sweep_deg: number;
  /** The points it runs through, first to last. */
  points: Point[];
}

/** Half-width of a ring given only the ends of its long axis, as a share of its half-length. */
export const RING_WIDTH_SHARE = 0.62;
const WANDER = 0.03;
const STEP_DEG = 13;
const START_DEG = -115;

/**
 * One wax-pencil stroke round a place.
 *
 * The first two points are the ends of the long axis; a third sets the half-width by its distance
 * from that axis. The radius wanders by no more than 3 %, the same for the same seed.
 */
export function ringStroke(points: Point[], seed: number): RingStroke {
  const chance = chanceFrom(seed);
  const axes = axesOf(points);
  const sweep_deg = 385 + chance() * 10;
  const waves = [1, 2, 3].map((turns) => ({
    turns,
    phase: chance() * 2 * Math.PI,
    weight: chance(),
  }));
  const count = Math.ceil(sweep_deg / STEP_DEG);
  const along = Array.from({ length: count + 1 }, (_, at) => at / count);
  const run = along.map((share) => {
    const angle = ((START_DEG + share * sweep_deg) * Math.PI) / 180;
    return onEllipse(axes, angle, 1 + WANDER * wander(waves, angle, share));
  });
  return { d: smooth(run), sweep_deg, points: run };
}

/** Between −1 and 1; drifts outwards along the stroke so that its ends don't meet. */
function wander(
  waves: { turns: number; phase: number; weight: number }[],
  angle: number,
  share: number,
): number {
  const total = waves.reduce((sum, wave) => sum + wave.weight, 0) || 1;
  const wave = waves.reduce(
    (sum, one) => sum + one.weight * Math.sin(one.turns * angle + one.phase),
    0,
  );
  return 0.45 * (wave / total) + 0.55 * (2 * share - 1);
}

interface Axes {
  centre: Point;
  long: number;
  short: number;
  turn: number;
}

function axesOf(points: Point[]): Axes {
  const [one, other, third] = points;
  if (!one || !other)
    throw new Error(
      `A ring needs the two ends of its long axis; ${points.length} points were given.`,
    );
  const along = { x: other.x - one.x, y: other.y - one.y };
  const length = Math.hypot(along.x, along.y) || 1;
  const across = third
    ? Math.abs((third.x - one.x) * along.y - (third.y - one.y) * along.x) / length
    : 0;
  return {
    centre: { x: (one.x + other.x) / 2, y: (one.y + other.y) / 2 },
    long: length / 2,
    short: across || (length / 2) * RING_WIDTH_SHARE,
    turn: Math.atan2(along.y, along.x),
  };
}

function onEllipse({ centre, long, short, turn }: Axes, angle: number, grow: number): Point {
  const x = long * grow * Math.cos(angle);
  const y = short * grow * Math.sin(angle);
  return {
    x: centre.x + x * Math.cos(turn) - y * Math.sin(turn),
    y: centre.y + x * Math.sin(turn) + y * Math.cos(turn),
  };
}

/** Two strokes of an arrow: the shaft from tail to tip, then the head. */
export function arrowStrokes(
  tail: Point,
  tip: Point,
  seed: number,
  head_px: number,
): { shaft: string; head: string } {
  const chance = chanceFrom(seed);
  const length = Math.hypot(tip.x - tail.x, tip.y - tail.y) || 1;
  const unit = { x: (tip.x - tail.x) / length, y: (tip.y - tail.y) / length };
  const bow = (chance() * 2 - 1) * WANDER * length;
  const middle = {
    x: (tail.x + tip.x) / 2 - unit.y * bow,
    y: (tail.y + tip.y) / 2 + unit.x * bow,
  };
  const barb = (turn: number) => {
    const angle = Math.atan2(-unit.y, -unit.x) + turn * (0.55 + 0.12 * chance());
    return { x: tip.x + head_px * Math.cos(angle), y: tip.y + head_px * Math.sin(angle) };
  };
  const [left, right] = [barb(1), barb(-1)];
  return {
    shaft: `M${at(tail)}Q${at(middle)} ${at(tip)}`,
    head: `M${at(left)}L${at(tip)}L${at(right)}`,
  };
}

function smooth(run: Point[]): string {
  const [first, ...rest] = run;
  if (!first) return '';
  const turns = rest.map((point, index) => {
    const next = rest[index + 1];
    const to = next ? { x: (point.x + next.x) / 2, y: (point.y + next.y) / 2 } : point;
    return `Q${at(point)} ${at(to)}`;
  });
  return `M${at(first)}${turns.join('')}`;
}

function at(point: Point): string {
  return `${point.x.toFixed(1)} ${point.y.toFixed(1)}`;
}

/** Numbers between 0 and 1, always the same row for the same seed (mulberry32, public domain). */
export function chanceFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

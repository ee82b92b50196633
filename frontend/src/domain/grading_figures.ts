/** Figures that limits are laid on: measured, counted, or worked out of measured ones. */

import { Refused } from './errors';
import { ASKED, rowOf } from './kinds';
import {
  isUnmeasured,
  placesOf,
  type Quantity,
  roundedText,
  scaled,
  TENTH_NM,
  tenthNmOrNull,
} from './quantities';

export type Values = Readonly<Record<string, unknown>>;
export type Figures = Readonly<Record<string, bigint | null>>;

/** A figure: its number, its words, and the fields it can't do without. */
export interface Figure {
  read(values: Values): bigint | null;
  text(values: Values): string;
  needs: readonly string[];
  fields: readonly string[];
  measured: boolean;
}

const MILLION = 1_000_000n;
/** What stands for a copied figure while a record is graded: given, and unreadable. */
export const COPIED = 'copied';

/** A value of a record as it was typed. */
export function shown(value: unknown): string {
  if (value == null) return '–';
  if (typeof value !== 'object') return String(value);
  const { value: text, unit } = value as Quantity;
  return `${text} ${unit}`;
}

function length(name: string, least = 0n): Figure {
  const read = (values: Values) => {
    const found = tenthNmOrNull(values[name]);
    return found === null || found < least ? null : found;
  };
  return {
    read,
    text: (values) => shown(values[name]),
    needs: [name],
    fields: [name],
    measured: true,
  };
}

function percent(name: string): Figure {
  const read = (values: Values) => {
    const text = values[name];
    const parts = typeof text === 'string' ? scaled(text, MILLION) : null;
    return parts === null || parts < 0n ? null : parts;
  };
  const text = (values: Values) => `${values[name]} %`;
  return { read, text, needs: [name], fields: [name], measured: false };
}

function count(name: string): Figure {
  const read = (values: Values) => {
    const value = values[name];
    const whole = typeof value === 'string' ? scaled(value, 1n) : wholeNumber(value);
    return whole === null || whole < 0n ? null : whole;
  };
  return {
    read,
    text: (values) => String(values[name]),
    needs: [name],
    fields: [name],
    measured: false,
  };
}

const wholeNumber = (value: unknown) =>
  Number.isSafeInteger(value) ? BigInt(value as number) : null;

const depth = length('depth');
const along = length('length');
const holeMajor = length('hole_major');
const holeMinor = length('hole_minor');
// Nothing is a share of nought: it was not measured.
const thickness = length('thickness', 1n);
const width = length('width', 1n);

const ovality: Figure = {
  read(values) {
    const [major, minor] = [holeMajor.read(values), holeMinor.read(values)];
    if (major === null || minor === null) return null;
    return major > minor ? major - minor : minor - major;
  },
  text(values) {
    const [major, minor] = [values.hole_major as Quantity, values.hole_minor as Quantity];
    const typed = Math.max(placesOf(major.value), placesOf(minor.value));
    const places = major.unit === minor.unit ? typed : Math.max(typed, 4);
    const found = roundedText(this.read(values) ?? 0n, TENTH_NM[major.unit], places);
    return `${found} ${major.unit}`;
  },
  needs: ['hole_major', 'hole_minor'],
  fields: ['hole_major', 'hole_minor'],
  measured: true,
};

const leastWidth: Figure = {
  read(values) {
    const [across, along_] = [width.read(values), along.read(values)];
    if (along_ === null && unreadable(values, 'length')) return null;
    return across === null || along_ === null || across < along_ ? across : along_;
  },
  text(values) {
    return shown(width.read(values) === this.read(values) ? values.width : values.length);
  },
  needs: ['width'],
  fields: ['width', 'length'],
  measured: true,
};

export const FIGURES: ReadonlyMap<string, Figure> = new Map(
  Object.entries({
    depth,
    length: along,
    hole_major: holeMajor,
    hole_minor: holeMinor,
    thickness,
    width,
    panel_percent: percent('panel_percent'),
    strength_percent: percent('strength_percent'),
    shear_share_percent: percent('shear_share_percent'),
    run: count('run'),
    ovality,
    least_width: leastWidth,
  }),
);

/** A figure by its name; a name that no record has is refused. */
export function figureNamed(name: string): Figure {
  const figure = FIGURES.get(name);
  if (figure) return figure;
  const message = `No figure is called ${name}.`;
  throw new Refused('unknown_figure', message, `Known are ${[...FIGURES.keys()].join(', ')}.`);
}

/** The reading of a figure, or null where no figure has the name. */
export function readFigure(name: string, values: Values): bigint | null {
  return FIGURES.get(name)?.read(values) ?? null;
}

/** Fields that choose the rows; no row reads them. */
export const SHEETED: readonly string[] = ['kind', 'material'];

/**
 * Whether a record has something in a field that can't be read as what is due there: a figure in
 * no known form, or finer than can be kept; neither yes nor no; a word of no list.
 */
export function unreadable(values: Values, field: string): boolean {
  const given = values[field];
  if (given == null || given === 'not measured' || SHEETED.includes(field)) return false;
  const figure = FIGURES.get(field);
  // A thickness of nought can be read: it was not measured.
  if (figure) return figure.read(values) === null && tenthNmOrNull(given) === null;
  const about = rowOf(ASKED, field);
  if (about?.type === 'yes_no') return typeof given !== 'boolean';
  return about?.type === 'word' && !about.choices?.includes(given as string);
}

/** The values of a record, its copied figures unreadable: nobody measured them. */
export function withoutCopied<V extends Values>(values: V): V {
  for (const field in values)
    if (isUnmeasured(values[field])) {
      const own = Object.entries(values).map(([name, value]) => [
        name,
        isUnmeasured(value) ? COPIED : value,
      ]);
      return Object.fromEntries(own) as V;
    }
  return values;
}

/** Whether a record has nothing in a field, or no figure where one is due. */
export function lacks(values: Values, field: string): boolean {
  const figure = FIGURES.get(field);
  if (figure) return figure.read(values) === null;
  return values[field] == null || values[field] === 'not measured';
}

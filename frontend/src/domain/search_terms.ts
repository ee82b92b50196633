/** The terms of a search, read from what was typed; the longest that means something wins. */

import { GROUPS, KINDS } from './kinds';
import { stateWords } from './moves';
import { readNumber, tagHolds, writeNumber } from './numbers';
import { STATES } from './permissions';
import type { Definition } from './place';
import { type Holds, inZone, JOINS, Places } from './search_places';
import { plain } from './search_rows';

/** One term: whether it holds of a row, and whether it asks for what was raised in error. */
export interface Term {
  holds: Holds;
  asks_error: boolean;
}

const OPEN: readonly (string | null)[] = ['Raised', 'Assessed', 'In work', 'Offered', 'Deferred'];
/** No phrase that means something is longer. */
const MOST_WORDS = 8;
const TOKEN =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: what was pasted may hold any
  /"([^"]*)"|([^\x00-\x20\x7f-\xa0\u2000-\u200f\u2028\u2029\u3000\ufeff"]+)/g;
const GRADE = /^(?:g(?=[0-4]$)|(?:grade)?(>=|<=|≥|≤|>|<|=))([0-9]{1,3})$/;
const SIGN = /^(?:grade)?(?:>=|<=|≥|≤|>|<|=)$/;
const OF_GRADE = /^[0-4]$/;
const FIGURE = /^[0-9]{1,3}$/;
const DAY = '(?:19|20)[0-9]{2}(?:-[0-9]{2}(?:-[0-9]{2})?)?';
const DATES = new RegExp(`^(?:(${DAY})|(${DAY})?\\.\\.(${DAY})?)$`);
const SHORT = /^([abdefghjklmnqrtuvwxyz]{1,2})(\/?)([1-9][0-9]{0,2})$/;
const TAG = /^([0-9A-Z]+?)([ABDEFGHJKLMNQRTUVWXYZ]{1,2}[0-9]{4})[0-9A-Z*]$/;
const COMPARE: Readonly<Record<string, (a: number, b: number) => boolean>> = {
  '>=': (a, b) => a >= b,
  '≥': (a, b) => a >= b,
  '<=': (a, b) => a <= b,
  '≤': (a, b) => a <= b,
  '>': (a, b) => a > b,
  '<': (a, b) => a < b,
  '=': (a, b) => a === b,
};

const termOf = (holds: Holds, asks_error = false): Term => ({ holds, asks_error });

/** The phrases that mean something: places of a definition, kinds, states, people. */
export class Vocabulary {
  private readonly phrases = new Map<string, Term[]>();
  private readonly kinds = new Map<string, Term>();
  private readonly places: Places;
  private readonly constructors: string | null;

  constructor(definition: Definition | null, people: Readonly<Record<string, string>>) {
    this.constructors = definition && plain(definition.constructor);
    this.places = new Places(definition);
    for (const [phrase, holds] of this.places.phrases()) this.add(phrase, termOf(holds));
    for (const [phrase, term] of [...stateTerms(), ...kindTerms(), ...peopleTerms(people)]) {
      this.add(phrase, term);
    }
    for (const [phrase, term] of kindTerms()) this.kinds.set(phrase.toLowerCase(), term);
  }

  private add(phrase: string, term: Term): void {
    const key = phrase.toLowerCase();
    this.phrases.set(key, [...(this.phrases.get(key) ?? []), term]);
  }

  /** The terms of what was typed. */
  terms(words: string): Term[] {
    const tokens = [...words.replaceAll('\u2212', '-').matchAll(TOKEN)].map(([, quoted, bare]) => ({
      text: quoted || bare || '',
      isQuoted: quoted !== undefined,
    }));
    const made: Term[] = [];
    for (let at = 0; at < tokens.length; ) {
      const bare = bareOf(tokens.slice(at, at + MOST_WORDS));
      const [term, used] = this.longest(bare) ?? [wordOf(tokens[at]?.text ?? ''), 1];
      if (term !== null) made.push(term);
      at += used;
    }
    return made;
  }

  /** The longest term at the beginning of tokens, and how many it takes. */
  private longest(tokens: readonly string[]): [Term, number] | null {
    for (let count = tokens.length; count > 0; count--) {
      const some = tokens.slice(0, count);
      const known = this.phrases.get(some.join(' '));
      if (known) return [anyOf(known), count];
      const read = this.read(some);
      if (read) return [read, count];
    }
    return null;
  }

  /** A term that has a form of its own. */
  private read(tokens: readonly string[]): Term | null {
    const [text, joined] = [tokens.join(' '), tokens.join('')];
    const [first = '', second = ''] = tokens;
    if (tokens.length === 1) {
      const known = numberOf(text) ?? tagOf(text, this.constructors) ?? datesOf(text);
      return known ?? gradeOf(text) ?? this.range(text) ?? shortNumberOf(text);
    }
    const kind = this.kinds.get(tokens.slice(0, -1).join(' '));
    const last = tokens.at(-1) ?? '';
    if (kind && OF_GRADE.test(last)) return bothOf(kind, compared('=', Number(last)));
    if (tokens.length === 2 && first === 'stage') return onStage(text);
    if (tokens.length === 2 && first === 'zone') return termOf(inZone(second));
    if (tokens.length === 2 && first === 'grade' && FIGURE.test(second)) {
      return compared('=', Number(second));
    }
    if (tokens.length > 3) return null;
    if (first === 'grade' || SIGN.test(first)) return gradeOf(joined);
    return JOINS.includes(second) ? this.range(joined) : numberOf(text);
  }

  private range(text: string): Term | null {
    const found = this.places.between(text);
    return found.length > 0 ? anyOf(found.map((holds) => termOf(holds))) : null;
  }
}

/** The tokens up to the first that was quoted, in small letters. */
function bareOf(tokens: readonly { text: string; isQuoted: boolean }[]): string[] {
  const end = tokens.findIndex(({ isQuoted }) => isQuoted);
  const bare = end < 0 ? tokens : tokens.slice(0, end);
  return bare.map(({ text }) => text.toLowerCase());
}

function anyOf(terms: readonly Term[]): Term {
  const asks_error = terms.some((term) => term.asks_error);
  return termOf((sought) => terms.some((term) => term.holds(sought)), asks_error);
}

function bothOf(one: Term, other: Term): Term {
  return termOf((sought) => one.holds(sought) && other.holds(sought));
}

/** A term that looks for words by their beginnings; signs alone say nothing. */
function wordOf(text: string): Term | null {
  const wanted = plain(text);
  return wanted ? termOf(({ text: words }) => words.includes(` ${wanted}`)) : null;
}

function onStage(stage: string): Term {
  return termOf(({ row }) => (row.stage ?? '').toLowerCase() === stage);
}

function numberOf(text: string): Term | null {
  let number: string;
  try {
    number = writeNumber(...readNumber(text));
  } catch {
    return null;
  }
  return termOf(({ row }) => row.number === number || row.also_numbers.includes(number), true);
}

/** The term of a number whose noughts were left out: A9, A/9. Without its stroke it is a word too. */
function shortNumberOf(text: string): Term | null {
  const [, letter, stroke, figures = ''] = SHORT.exec(text) ?? [];
  const number = letter ? numberOf(`${letter}/${figures.padStart(4, '0')}`) : null;
  const word = wordOf(text);
  return number && word && !stroke ? anyOf([number, word]) : number;
}

/** The term of a tag whose check character is right and whose airframe is this one. */
function tagOf(text: string, constructors: string | null): Term | null {
  const upper = text.toUpperCase();
  const found = TAG.exec(upper);
  if (!found?.[1] || !found[2] || !tagHolds(upper)) return null;
  return found[1].toLowerCase() === constructors ? numberOf(found[2]) : null;
}

/** The term of a day, a month, a year, or a range of them that may be open. */
function datesOf(text: string): Term | null {
  const found = DATES.exec(text);
  if (!found || text === '..') return null;
  const [, day, from = '', until = ''] = found;
  const [first, last] = [day ?? from, day ?? until];
  return termOf(({ row }) => isBetween(row.raised_on, first, last));
}

function isBetween(day: unknown, first: string, last: string): boolean {
  if (typeof day !== 'string') return false;
  return first <= day && (last === '' || day.slice(0, last.length) <= last);
}

function gradeOf(text: string): Term | null {
  const found = GRADE.exec(text);
  return found ? compared(found[1] ?? '=', Number(found[2])) : null;
}

/** The term of a grade; what is not graded has none, *at least 2* counts as 2. */
function compared(sign: string, grade: number): Term {
  const holds = COMPARE[sign];
  return termOf(({ row }) => row.grade !== null && holds?.(row.grade, grade) === true);
}

type Named = [phrase: string, term: Term];

function stateTerms(): Named[] {
  const states = STATES.flatMap((state) => {
    const term = termOf(({ row }) => row.state === state, state === 'Raised in error');
    return [...new Set([state, stateWords(state)])].map((phrase): Named => [phrase, term]);
  });
  const open = termOf(({ row }) => OPEN.includes(row.state));
  return [...states, ['open', open], ['two values', termOf(hasTwoValues)]];
}

const hasTwoValues: Holds = ({ row }) =>
  (row.two_values ?? []).length > 0 || (row.states ?? []).length > 1;

function kindTerms(): Named[] {
  const kinds = Object.entries(KINDS).flatMap(([kind, { label }]) => {
    const term = termOf(({ row }) => row.kind === kind);
    return [...new Set([kind, label.toLowerCase()])].map((phrase): Named => [phrase, term]);
  });
  const groups = Object.entries(GROUPS).flatMap(([group, label]) => {
    const term = termOf((sought) => sought.group === group);
    return [...new Set([group, label.toLowerCase()])].map((phrase): Named => [phrase, term]);
  });
  return [...kinds, ...groups];
}

function peopleTerms(people: Readonly<Record<string, string>>): Named[] {
  const named = Object.entries(people).filter(([, name]) => name);
  return named.map(([person, name]) => [name, termOf(({ row }) => row.raised_by === person)]);
}

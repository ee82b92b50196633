// @vitest-environment happy-dom
import { afterEach, describe, expect, it } from 'vitest';
import { GradeMark } from '../../../frontend/src/furniture/grade.tsx';
import { RivetHead } from '../../../frontend/src/furniture/rivet.tsx';
import {
  MARK_STATES,
  RIVET_WORDS,
  type RivetState,
} from '../../../frontend/src/furniture/words.ts';
import { cleared, drawn } from './dom.ts';

afterEach(cleared);

const GRADES = [0, 1, 2, 3, 4] as const;

/** Classes that draw something else than a full line round an empty part. */
const DRAWN = /fill-ink|box-cleared|rivet-dotted/;

/** What is drawn, its colours left out: shape stays, and whether a part is inked, dotted or empty. */
function shapeOf(box: Element): string {
  const svg = box.querySelector('svg');
  if (!svg) throw new Error('Nothing is drawn.');
  for (const element of [svg, ...svg.querySelectorAll('*')]) {
    const [drawn_as] = DRAWN.exec(element.getAttribute('class') ?? '') ?? [];
    if (drawn_as) element.setAttribute('drawn', drawn_as);
    for (const name of ['class', 'fill', 'stroke', 'aria-label']) element.removeAttribute(name);
  }
  for (const text of svg.querySelectorAll('text, title')) text.remove();
  return svg.innerHTML;
}

describe('grade marks', () => {
  it('differ in shape, not in colour only, and not in their numeral only', () => {
    const shapes = GRADES.map((grade) => shapeOf(drawn(<GradeMark grade={grade} size={48} />)));
    expect(new Set(shapes).size).toBe(GRADES.length);
  });

  it('stand open below while the grade is at least so much', () => {
    for (const grade of [1, 2, 3] as const) {
      const known = shapeOf(drawn(<GradeMark grade={grade} size={48} />));
      const open = shapeOf(drawn(<GradeMark grade={grade} at_least size={48} />));
      expect(open).not.toBe(known);
    }
  });

  it('carry their numeral, with its question mark while it is not known', () => {
    const words = (mark: Element) => mark.querySelector('svg text')?.textContent;
    expect(words(drawn(<GradeMark grade={3} size={48} />))).toBe('3');
    expect(words(drawn(<GradeMark grade={2} at_least size={48} />))).toBe('2?');
    expect(words(drawn(<GradeMark grade={null} size={48} />))).toBe('?');
  });

  it('show each state by what is drawn round them', () => {
    const shapes = MARK_STATES.map((state) =>
      shapeOf(drawn(<GradeMark grade={2} state={state} size={48} />)),
    );
    const alike = shapes.filter((shape, at) => shapes.indexOf(shape) !== at);
    expect(alike).toEqual([]);
  });
});

describe('rivet heads', () => {
  it('differ in shape', () => {
    const states = Object.keys(RIVET_WORDS) as RivetState[];
    const shapes = states.map((state) => shapeOf(drawn(<RivetHead state={state} size={32} />)));
    expect(new Set(shapes).size).toBe(states.length);
  });
});

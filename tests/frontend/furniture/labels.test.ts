import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Box,
  markBox,
  placeLabels,
  runsThrough,
  shared,
  type ViewMark,
} from '../../../frontend/src/furniture/labels.ts';

const BOUNDS: Box = { left: 0, top: 0, right: 750, bottom: 300 };

function markAt(x: number, y: number, id = `${x}/${y}`): ViewMark {
  return { id, x, y, size: 34, number: 'A/0002', words: 'Grade 3' };
}

describe('labels of marks on a view', () => {
  it('stand to the right of a mark that stands alone, with no leader', () => {
    const [label] = placeLabels([markAt(300, 150)], BOUNDS);
    expect(label?.side).toBe('right');
    expect(label?.leader).toBeNull();
    expect(label?.box.left).toBe(300 + 17 + 3);
  });

  it('turn to the left at the right edge of the view', () => {
    const [label] = placeLabels([markAt(735, 150)], BOUNDS);
    expect(label?.side).toBe('left');
    expect(label?.box.right).toBeLessThan(735 - 17);
  });

  it('move off on a leader where two marks stand close', () => {
    const labels = placeLabels([markAt(300, 150), markAt(338, 150), markAt(376, 150)], BOUNDS);
    const moved = labels.filter((label) => label.leader);
    expect(moved.length).toBeGreaterThan(0);
    for (const one of labels)
      for (const other of labels) if (one !== other) expect(shared(one.box, other.box)).toBe(0);
  });

  it('never move a mark, whatever the crowd', () => {
    const places = fc.tuple(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 0, max: 8 }));
    fc.assert(
      fc.property(fc.array(places, { maxLength: 12 }), (crowd) => {
        const marks = crowd.map(([x, y], at) => markAt(x * 37, y * 37, String(at)));
        const before = structuredClone(marks);
        const labels = placeLabels(marks, BOUNDS);
        expect(marks).toEqual(before);
        expect(labels.map((label) => label.mark)).toEqual(before);
      }),
    );
  });

  it('lead through no other mark while there is another way', () => {
    // Words on both sides leave only a little room beside the neighbour.
    const marks = [markAt(300, 150), markAt(370, 150), markAt(440, 150)];
    const words: Box[] = [
      { left: 320, top: 60, right: 750, bottom: 128 },
      { left: 460, top: 128, right: 750, bottom: 260 },
    ];
    const labels = placeLabels(marks, BOUNDS, words);
    expect(labels.some(({ leader }) => leader)).toBe(true);
    for (const { leader, mark } of labels)
      for (const other of marks)
        if (leader && other !== mark) expect(runsThrough(leader, markBox(other))).toBe(false);
  });

  it('know a line through a box by its points (2,000 lines, seed 7)', () => {
    const box: Box = { left: -10, top: -6, right: 12, bottom: 9 };
    const number = fc.double({ min: -30, max: 30, noNaN: true });
    fc.assert(
      fc.property(number, number, number, number, (x1, y1, x2, y2) => {
        const leader = { from: { x: x1, y: y1 }, to: { x: x2, y: y2 } };
        const isIn = Array.from({ length: 400 }, (_, at) => at / 399).some((part) => {
          const [x, y] = [x1 + (x2 - x1) * part, y1 + (y2 - y1) * part];
          return (
            x > box.left + 1e-9 &&
            x < box.right - 1e-9 &&
            y > box.top + 1e-9 &&
            y < box.bottom - 1e-9
          );
        });
        if (isIn) expect(runsThrough(leader, box)).toBe(true);
        const wider = { left: -10.2, top: -6.2, right: 12.2, bottom: 9.2 };
        const isNear = Array.from({ length: 400 }, (_, at) => at / 399).some((part) => {
          const [x, y] = [x1 + (x2 - x1) * part, y1 + (y2 - y1) * part];
          return x > wider.left && x < wider.right && y > wider.top && y < wider.bottom;
        });
        if (!isNear) expect(runsThrough(leader, box)).toBe(false);
      }),
      { numRuns: 2_000, seed: 7 },
    );
  });

  it('cover no mark and no other label while there is room', () => {
    const marks = [80, 230, 380, 530, 680].flatMap((x) => [markAt(x, 60), markAt(x, 200)]);
    const labels = placeLabels(marks, BOUNDS);
    for (const label of labels) {
      for (const mark of marks) {
        const box = {
          left: mark.x - 17,
          top: mark.y - 17,
          right: mark.x + 17,
          bottom: mark.y + 17,
        };
        expect(shared(label.box, box)).toBe(0);
      }
      expect(shared(label.box, BOUNDS)).toBeCloseTo(
        (label.box.right - label.box.left) * (label.box.bottom - label.box.top),
        6,
      );
    }
  });

  it('keep clear of words already on the view', () => {
    const words: Box = { left: 320, top: 130, right: 460, bottom: 170 };
    const [label] = placeLabels([markAt(300, 150)], BOUNDS, [words]);
    expect(shared((label as { box: Box }).box, words)).toBe(0);
  });
});

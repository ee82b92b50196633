import { describe, expect, it } from 'vitest';
import type { Definition } from '../../../frontend/src/domain/place';
import { cellsOf } from '../../../frontend/src/services/stage_cells';
import definition_2603 from '../../../sample_data/skinpin_demo/data/definition_2603.json';
import second from '../../vectors/second_airframe.json';

const MARRAM = definition_2603 as unknown as Definition;
const SECOND = second as unknown as Definition;
const whole = (definition: Definition) =>
  definition.structures.map(({ name }) => ({ structure: name }));

describe('the cells that a stage counts', () => {
  it('are those of the zones that say how many they have: not the two wing roots', () => {
    expect(cellsOf(whole(MARRAM), MARRAM, [])).toHaveLength(916);
  });

  it('are those of every zone where none says so', () => {
    const cells = cellsOf(whole(SECOND), SECOND, []);
    expect(cells).toHaveLength(235);
    expect(cells.every((cell) => cell.zone !== '')).toBe(true);
  });
});

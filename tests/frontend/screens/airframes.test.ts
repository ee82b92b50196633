// The tables that an airframe is typed in: where keys lead, what a paste fills, which line is wrong.
import { describe, expect, it } from 'vitest';
import { matchRoute } from '../../../frontend/src/routes';
import {
  nextPart,
  PARTS,
  partAddress,
  partWords,
  placed,
  rowTroubles,
} from '../../../frontend/src/screens/airframes/parts';
import { inPlainWords } from '../../../frontend/src/screens/airframes/plain_words';
import { pasted, stepTo } from '../../../frontend/src/screens/airframes/table_steps';
import { BLANK, BLANK_STRUCTURE } from '../../../frontend/src/services/airframe_rows';

const plain = { shiftKey: false, altKey: false, ctrlKey: false, metaKey: false };
const size = { rows: 3, columns: 4 };
const step = (key: string, at: [number, number], caret = { first: true, last: true }) =>
  stepTo({ key, ...plain }, at, size, caret);

describe('stepTo', () => {
  it('goes on to the next line by ENTER, and by arrows to the neighbours', () => {
    expect(step('Enter', [0, 3])).toEqual([1, 0]);
    expect(step('ArrowDown', [0, 2])).toEqual([1, 2]);
    expect(step('ArrowUp', [0, 2])).toBeNull();
    expect(step('ArrowRight', [1, 2])).toEqual([1, 3]);
    expect(step('ArrowLeft', [1, 0])).toBeNull();
  });

  it('leaves the arrows to the text while the caret is within it', () => {
    const within = { first: false, last: false };
    expect(step('ArrowRight', [1, 2], within)).toBeNull();
    expect(step('ArrowLeft', [1, 2], within)).toBeNull();
    expect(stepTo({ ...plain, key: 'ArrowDown', shiftKey: true }, [0, 0], size, within)).toBeNull();
  });
});

describe('pasted', () => {
  it('fills cells from the one it is put in, adding lines', () => {
    const rows = [{ name: 'F1' }, { name: 'F2', main: 'yes' }];
    const text = '10\tframe\r\n20\n30\trib\tx\ty\r\n';
    expect(pasted(rows, ['name', 'station', 'kind'], text, 1, 1)).toEqual([
      { name: 'F1' },
      { name: 'F2', main: 'yes', station: '10', kind: 'frame' },
      { station: '20' },
      { station: '30', kind: 'rib' },
    ]);
    expect(rows).toHaveLength(2);
  });
});

describe('troubles', () => {
  const members = [{ name: 'F1', station: '118O' }, {}, { name: 'F2' }];
  const description = {
    ...BLANK,
    structures: [{ ...BLANK_STRUCTURE, name: 'Hull', members }],
    zones: [{}, { zone: '111' }, { zone: '112' }],
    access: [
      { zone: '112', name: 'Hatch' },
      {},
      { zone: '111', name: 'Floor' },
      { zone: '111', name: 'P 2', fixings: 'x' },
    ],
  };
  const at = (path: string) => placed(description, { at: path, message: 'm', weight: 'refused' });

  it.each([
    ['structures/0/members/1/station', 'members', 2, 'station'],
    ['zones/0/along', 'zones', 1, 'from'],
    ['structures/0/datum', 'structures', 0, 'datum'],
    ['structures/0/plating/2', 'strakes', null, 'plating'],
    ['zones/0/access/1/fixings', 'access', 3, 'fixings'],
    ['zones/1/access/0/name', 'access', 0, 'name'],
    ['zones/1/access/4', 'access', null, null],
    ['views/3', 'drawings', null, 'views'],
    ['constructor', 'about', null, 'constructor'],
    ['zones', 'zones', null, 'zones'],
  ])('%s stands in the line that was typed', (path, part, row, column) => {
    expect(at(path)).toMatchObject({ part, row, column });
  });

  it('of a table are those of its structure alone', () => {
    const all = [at('structures/0/members/1'), at('structures/1/members/0'), at('zones/0')];
    expect(rowTroubles(all, 'members', 0)).toHaveLength(1);
    expect(rowTroubles(all, 'zones')).toEqual([
      { row: 1, column: null, message: 'm', said: false },
    ]);
  });

  it('of form are told in the words of the tables', () => {
    const words = (path: string) =>
      inPlainWords({ at: path, code: 'wrong_shape', message: 'raw', hint: 'h' }, description)
        .message;
    expect(words('structures/0/members')).toBe('Hull has no members yet.');
    expect(words('structures')).toBe('No structure is described yet.');
    expect(words('structures/0/members/1/station')).toBe('F2 has no station.');
    expect(words('structures/0/members/0/station')).toBe('F1: “118O” can’t be read as a station.');
    expect(words('zones/0/access/1/fixings')).toBe('P 2: “x” can’t be read as a whole number.');
    expect(words('zones/1/zone')).toBe(
      'Zone 112: “112” can’t be read as a number of three figures.',
    );
    expect(words('structures/0/hands/1')).toContain('P port');
    expect(words('views/0/lines')).toBe('raw');
    expect(inPlainWords({ at: 'structures', code: 'x', message: 'raw' }, description).message).toBe(
      'raw',
    );
  });
});

describe('parts', () => {
  it('each have an address of their own that comes back', () => {
    for (const part of PARTS) {
      const [path = ''] = partAddress('44/17', part, 'Port wing').split('?');
      expect(matchRoute(path)?.params).toEqual({
        airframe: '44/17',
        ...(part === 'about' ? {} : { part }),
      });
    }
  });

  it('say that an issue is in the book where nothing is changed since', () => {
    const found = { troubles: [], gaps: 0, overlaps: 0, waiting: false, in_book: '2' };
    const words = (more: object) => partWords(BLANK, 0, { ...found, ...more }).issue;
    expect(words({})).toBe('2, in book');
    expect(words({ in_book: null })).toBe('1, ready');
    expect(words({ waiting: true })).toBe('checked …');
  });

  it('follow one another, and end at the ends', () => {
    expect(nextPart('about', 1)).toBe('structures');
    expect(nextPart('issue', 1)).toBe('issue');
    expect(nextPart('about', -1)).toBe('about');
  });
});

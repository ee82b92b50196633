// @vitest-environment happy-dom
// Lines typed by the keyboard: ENTER goes on at once, a line put in or taken out, hundreds of them.
import { useState } from 'preact/hooks';
import { act } from 'preact/test-utils';
import { afterEach, describe, expect, it } from 'vitest';
import { type Column, Table } from '../../../frontend/src/screens/airframes/table';
import type { Row } from '../../../frontend/src/services/airframe_rows';
import { cleared, drawn } from '../furniture/dom';

const COLUMNS: Column[] = [
  { name: 'name', label: 'Member', wide: 2 },
  { name: 'station', label: 'Station', wide: 1 },
  { name: 'main', label: 'Main', wide: 1, yes: true },
  { name: 'title', label: 'Title', wide: 4, wraps: true },
];
let now: Row[] = [];
let line = -1;

function Typed({ rows }: { rows: Row[] }) {
  const [typed, setTyped] = useState(rows);
  now = typed;
  const onLine = (row: number) => {
    line = row;
  };
  return (
    <Table
      of="member"
      columns={COLUMNS}
      rows={typed}
      troubles={[]}
      onRows={setTyped}
      onLine={onLine}
    />
  );
}

function table(rows: Row[]) {
  const box = drawn(<Typed rows={rows} />);
  const cell = (row: number, column: number) =>
    box.querySelector(`[data-at="${row}:${column}"]`) as HTMLInputElement;
  const type = (text: string) =>
    act(() => {
      const input = document.activeElement as HTMLInputElement;
      input.value = text;
      input.dispatchEvent(new Event('input', { bubbles: true }));
    });
  const key = (name: string, how: KeyboardEventInit = {}) =>
    act(() => {
      const event = new KeyboardEvent('keydown', {
        key: name,
        bubbles: true,
        cancelable: true,
        ...how,
      });
      document.activeElement?.dispatchEvent(event);
    });
  return { box, cell, type, key };
}

afterEach(cleared);

describe('the table', () => {
  it('goes on to the next line by ENTER, before anything is painted', () => {
    const { cell, type, key } = table([]);
    cell(0, 0).focus();
    void type('F1');
    void key('Enter');
    expect(document.activeElement).toBe(cell(1, 0));
    void type('F2');
    expect(now).toEqual([{ name: 'F1' }, { name: 'F2' }]);
    expect(line).toBe(1);
  });

  it('puts a line in by SHIFT + ENTER and takes it out by SHIFT + DELETE', () => {
    const { cell, type, key } = table([{ name: 'F1' }, { name: 'F2' }]);
    cell(1, 1).focus();
    void key('Enter', { shiftKey: true });
    expect(document.activeElement).toBe(cell(1, 0));
    void type('F1N');
    expect(now.map(({ name }) => name)).toEqual(['F1', 'F1N', 'F2']);
    void key('Delete', { shiftKey: true });
    expect(now.map(({ name }) => name)).toEqual(['F1', 'F2']);
  });

  it('keeps a long text whole in a cell that grows with it, and in one line of the file', () => {
    const title = 'Hull bottom from the stem to frame 8, port, between keel and chine';
    const { box, cell, type, key } = table([{ name: 'F1', title }]);
    // The text under the field has its size.
    const under = () =>
      [...box.querySelectorAll('.typed-wrap')].map((one) => one.getAttribute('data-text'));
    expect(under()).toEqual([title, '', '']);
    expect([cell(0, 3).tagName, cell(0, 3).value]).toEqual(['TEXTAREA', title]);
    cell(1, 3).focus();
    void type('two \n lines');
    expect(now[1]?.title).toBe('two lines');
    void key('ArrowUp');
    expect(document.activeElement).toBe(cell(0, 3));
    void key('Enter');
    expect(document.activeElement).toBe(cell(1, 0));
  });

  it('says yes by any letter, and takes it back', () => {
    const { cell, type } = table([{ name: 'F1' }]);
    cell(0, 2).focus();
    void type('y');
    expect(now[0]?.main).toBe('yes');
    void type('ye');
    expect(now[0]?.main).toBe('');
  });

  it('of 500 lines paints only the one that is typed in', () => {
    const rows = Array.from({ length: 500 }, (_, at) => ({ name: `F${at}`, station: String(at) }));
    const { box, cell, type } = table(rows);
    expect(box.querySelectorAll('tbody tr')).toHaveLength(502);
    const other = cell(400, 0);
    // A line that is painted again gets its own text again.
    other.value = 'untouched';
    cell(20, 1).focus();
    void type('20.5');
    expect(now[20]).toEqual({ name: 'F20', station: '20.5' });
    expect(other.value).toBe('untouched');
  });
});

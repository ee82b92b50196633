import { Component } from 'preact';
import { useRef } from 'preact/hooks';
import { announce } from '../../furniture';
import { isBlank, isYes, type Row } from '../../services/airframe_rows';
import { pasted, stepTo } from './table_steps';

export interface Column {
  name: string;
  label: string;
  /** Share of the width. */
  wide: number;
  /** What an empty cell means, in the second ink. */
  empty?: string | undefined;
  /** One key says yes, another takes it back. */
  yes?: boolean | undefined;
  figure?: boolean | undefined;
  /** A long text is shown whole, in as many lines as it takes. */
  wraps?: boolean | undefined;
}

export interface RowTrouble {
  row: number;
  column: string | null;
  message: string;
  said?: boolean | undefined;
}

interface TableProps {
  /** Says what a line is: "member". */
  of: string;
  columns: readonly Column[];
  rows: readonly Row[];
  troubles: readonly RowTrouble[];
  onRows: (rows: Row[]) => void;
  /** The line that is being typed in. */
  onLine?: ((row: number) => void) | undefined;
  /** Called when a line is left by ENTER. */
  onEnd?: (() => void) | undefined;
}

/** Lines of texts under the keyboard: ENTER goes on to the next, arrows move, a paste fills cells. */
export function Table(props: TableProps) {
  const { of, columns, rows, troubles } = props;
  const box = useRef<HTMLTableElement>(null);
  // At once: what is typed next must not land in the line before.
  const focus = (row: number, column: number) => {
    const cell = box.current?.querySelector<Typed>(`[data-at="${row}:${column}"]`);
    cell?.focus();
    cell?.select();
  };
  const latest = useRef({ ...props, focus });
  latest.current = { ...props, focus };
  const act = useRef<LineActs>({
    change: (row, column, text) => changed(latest.current, row, column, text),
    key: (event, row, column) => pressed(event, latest.current, row, column),
    paste: (event, row, column) => fill(event, latest.current, row, column),
    enter: (row) => row < latest.current.rows.length && latest.current.onLine?.(row),
  });
  // Two blank lines: one to type in, and one to go on to before that is painted.
  const lines = [...rows, {}, {}];
  return (
    <table class="typed-table" ref={box}>
      <thead>
        <tr>
          <th class="typed-line">line</th>
          {columns.map((column) => (
            <th key={column.name} class={`wide-${column.wide}`}>
              {column.label}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {lines.map((row, at) => (
          <Line
            key={at}
            {...{ of, at, row, columns }}
            is_new={at >= rows.length}
            wrong={wrongOf(troubles, at)}
            acts={act.current}
          />
        ))}
      </tbody>
    </table>
  );
}

/** The columns of a line that something is said of, as one text: a line is painted when it changes. */
function wrongOf(troubles: readonly RowTrouble[], row: number): string {
  return troubles
    .filter((one) => one.row === row)
    .map((one) => (one.said ? '' : (one.column ?? '*')))
    .join(' ');
}

interface LineActs {
  change: (row: number, column: string, text: string) => void;
  key: (event: KeyboardEvent, row: number, column: number) => void;
  paste: (event: ClipboardEvent, row: number, column: number) => void;
  enter: (row: number) => unknown;
}

interface LineProps {
  of: string;
  at: number;
  row: Row;
  columns: readonly Column[];
  is_new: boolean;
  wrong: string;
  acts: LineActs;
}

/** One line; hundreds of them are painted only when their own texts change. */
class Line extends Component<LineProps> {
  override shouldComponentUpdate(next: LineProps) {
    const { row, wrong, is_new, columns } = this.props;
    return (
      next.wrong !== wrong ||
      next.is_new !== is_new ||
      next.columns !== columns ||
      (next.row !== row && !(isBlank(next.row) && isBlank(row)))
    );
  }

  override render() {
    const { of, at, row, columns, is_new, wrong, acts } = this.props;
    const columns_wrong = wrong.split(' ');
    return (
      <tr class={wrong.trim() ? 'wrong' : undefined} onFocusIn={() => acts.enter(at)}>
        <th class="typed-line" scope="row">
          {is_new ? '+' : at + 1}
        </th>
        {columns.map((column, place) => (
          <td key={column.name}>
            <Cell
              {...{ column, at, place, acts }}
              label={`${column.label}, ${of} ${at + 1}`}
              wrong={columns_wrong.includes(column.name) || columns_wrong.includes('*')}
              empty={column.empty ?? (is_new && place === 0 ? 'next' : '')}
              text={row[column.name] ?? ''}
            />
          </td>
        ))}
      </tr>
    );
  }
}

interface CellProps {
  column: Column;
  at: number;
  place: number;
  label: string;
  wrong: boolean;
  empty: string;
  text: string;
  acts: LineActs;
}

/** What an empty cell means stands in brackets: nobody typed it. */
function understood(empty: string): string {
  return empty && !empty.startsWith('such as') ? `(${empty})` : empty;
}

type Typed = HTMLInputElement | HTMLTextAreaElement;

function Cell({ column, at, place, label, wrong, empty, text, acts }: CellProps) {
  const typed = {
    ...({ autocomplete: 'off', spellcheck: false, 'data-at': `${at}:${place}` } as const),
    ...{ 'aria-label': label, 'aria-invalid': wrong, placeholder: understood(empty), value: text },
    onInput: (event: { currentTarget: Typed }) =>
      acts.change(at, column.name, textOf(event.currentTarget, column)),
    onKeyDown: (event: KeyboardEvent) => acts.key(event, at, place),
    onPaste: (event: ClipboardEvent) => acts.paste(event, at, place),
  };
  if (!column.wraps)
    return <input type="text" class={column.figure ? 'figure' : undefined} {...typed} />;
  // The same text under it gives the cell its height.
  return (
    <span class="typed-wrap" data-text={text || typed.placeholder}>
      <textarea
        rows={1}
        {...typed}
        // As TAB does in a line of its own: what is typed next stands in place of the text.
        onFocus={(event) => event.currentTarget.select()}
      />
    </span>
  );
}

function textOf(input: Typed, column: Column): string {
  if (column.wraps) return input.value.replace(/\s*\n\s*/g, ' ');
  if (!column.yes) return input.value;
  const text = isYes(input.value) && input.value !== 'ye' ? 'yes' : '';
  input.value = text;
  return text;
}

type Latest = TableProps & { focus: (row: number, column: number) => void };

function changed({ rows, onRows, onLine }: Latest, row: number, column: string, text: string) {
  const next = [...rows];
  while (next.length <= row) next.push({});
  next[row] = { ...next[row], [column]: text };
  onRows(next);
  onLine?.(row);
}

function pressed(event: KeyboardEvent, table: Latest, row: number, column: number) {
  const { rows, columns, onRows, focus, of } = table;
  if (event.key === 'Delete' && event.shiftKey) {
    event.preventDefault();
    if (row >= rows.length) return;
    onRows(rows.filter((_, at) => at !== row));
    announce(`${of} ${row + 1} is out.`);
    focus(row, column);
    return;
  }
  if (event.key === 'Insert' || (event.key === 'Enter' && event.shiftKey)) {
    event.preventDefault();
    onRows([...rows.slice(0, row), {}, ...rows.slice(row)]);
    focus(row, 0);
    return;
  }
  const input = event.currentTarget as Typed;
  const size = { rows: rows.length + 2, columns: columns.length };
  const step = stepTo(event, [row, column], size, caretOf(input));
  if (!step) return;
  event.preventDefault();
  if (event.key === 'Enter') table.onEnd?.();
  focus(...step);
}

function caretOf(input: Typed): { first: boolean; last: boolean } {
  const { selectionStart, selectionEnd, value } = input;
  const all = selectionStart === 0 && selectionEnd === value.length;
  return {
    first: all || (selectionStart === 0 && selectionEnd === 0),
    last: all || (selectionStart === value.length && selectionEnd === value.length),
  };
}

function fill(event: ClipboardEvent, table: Latest, row: number, column: number) {
  const text = event.clipboardData?.getData('text/plain') ?? '';
  if (!/[\t\n]/.test(text.trimEnd())) return;
  event.preventDefault();
  const names = table.columns.map(({ name }) => name);
  table.onRows(pasted(table.rows, names, text, row, column));
  announce(`${text.trimEnd().split('\n').length} lines pasted.`);
}

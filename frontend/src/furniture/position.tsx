import './position.css';

export interface PositionCell {
  caption: string;
  value: string;
  /** Opens the choice of this cell. A cell without it only says. */
  onOpen?: (() => void) | undefined;
  open?: boolean | undefined;
  /** Widest cell of the bar. */
  wide?: boolean | undefined;
}

/** Structure · hand · member and offset · strakes · face: each cell opens its choice. */
export function PositionBar({ cells }: { cells: PositionCell[] }) {
  return (
    <fieldset class="position-bar" aria-label="Place">
      {cells.map((cell) =>
        cell.onOpen ? (
          <button
            key={cell.caption}
            type="button"
            class={cellClass(cell)}
            aria-expanded={cell.open === true}
            onClick={cell.onOpen}
          >
            <CellWords cell={cell} />
          </button>
        ) : (
          <div key={cell.caption} class={cellClass(cell)}>
            <CellWords cell={cell} />
          </div>
        ),
      )}
    </fieldset>
  );
}

function cellClass(cell: PositionCell): string {
  return `position-cell${cell.wide ? ' wide' : ''}${cell.open ? ' open' : ''}`;
}

function CellWords({ cell }: { cell: PositionCell }) {
  return (
    <>
      <span class="cap">{cell.caption}</span>
      <span class="position-value">{cell.value}</span>
    </>
  );
}

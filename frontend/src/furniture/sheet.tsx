import type { ComponentChildren } from 'preact';
import { useMemo } from 'preact/hooks';
import './sheet.css';

/** Letters of a sheet border: I and O are left out, as on standard sheets. */
export const GRID_LETTERS = [...'ABCDEFGHJKLMNPQRSTUVWXYZ'];
const GRID_NUMBERS = Array.from({ length: 16 }, (_, at) => String(at + 1));

export type SheetLayout = 'airframe' | 'desk';
export type SheetCorner = 'top left' | 'top right' | 'bottom left' | 'bottom right';

export interface SheetProps {
  layout: SheetLayout;
  /** Corner the grid starts from: a setting of the workshop. */
  corner?: SheetCorner | undefined;
  /** Hand that works the keys: left mirrors the key area. */
  hand?: 'right' | 'left' | undefined;
  /** StationScale at the airframe, SheetIndex at the desk. */
  top?: ComponentChildren;
  /** Desk only: the 404 px column on the left. */
  list?: ComponentChildren;
  list_label?: string | undefined;
  /** Airframe only: the PositionBar between view and keys. */
  position?: ComponentChildren;
  /** Airframe only: the keys, on panel. */
  keys?: ComponentChildren;
  /** Desk only: key of marks and keys left of the title block. */
  legend?: ComponentChildren;
  /** Desk only: keys left of the title block, beside a list whose foot is its legend. */
  title_keys?: ComponentChildren;
  title: ComponentChildren;
  children: ComponentChildren;
}

/** A drawing sheet that fills the window: border, frame, and the parts of one layout. */
export function Sheet(props: SheetProps) {
  const { layout, corner = 'top left', hand = 'right' } = props;
  const listed = props.list !== undefined ? ' listed' : '';
  return (
    <div class={`sheet sheet-${layout}${listed} hand-${hand}`}>
      <SheetBorder corner={corner} />
      {props.top !== undefined && <header class="sheet-top">{props.top}</header>}
      <div class="sheet-frame">
        {layout === 'airframe' ? airframeParts(props) : deskParts(props)}
      </div>
    </div>
  );
}

function airframeParts(props: SheetProps) {
  return (
    <>
      <main class="sheet-view">{props.children}</main>
      {props.position !== undefined && (
        <section class="sheet-position" aria-label="Position">
          {props.position}
        </section>
      )}
      {props.keys !== undefined && (
        <section class="sheet-keys" aria-label="Keys">
          {props.keys}
        </section>
      )}
      <footer class="sheet-title">{props.title}</footer>
    </>
  );
}

function deskParts(props: SheetProps) {
  return (
    <>
      {props.list !== undefined && (
        <section class="sheet-list" aria-label={props.list_label ?? 'List'}>
          <div class="sheet-list-rows">{props.list}</div>
          {props.legend !== undefined && <div class="sheet-legend">{props.legend}</div>}
        </section>
      )}
      <main class="sheet-view">{props.children}</main>
      <footer class="sheet-title">
        {props.list === undefined && props.legend !== undefined && (
          <div class="sheet-legend">{props.legend}</div>
        )}
        {props.title_keys !== undefined && <div class="sheet-legend">{props.title_keys}</div>}
        {props.title}
      </footer>
    </>
  );
}

/** Outer rule with grid letters down both sides and numbers along the foot, in fields of 160 px. */
function SheetBorder({ corner }: { corner: SheetCorner }) {
  const turned = `${corner.startsWith('bottom') ? ' from-foot' : ''}${corner.endsWith('right') ? ' from-right' : ''}`;
  const letters = () => GRID_LETTERS.map((letter) => <span key={letter}>{letter}</span>);
  // It never changes: no step on the sheet goes through its letters again.
  return useMemo(
    () => (
      <div class={`sheet-border${turned}`} aria-hidden="true">
        <div class="grid-side grid-left">{letters()}</div>
        <div class="grid-side grid-right">{letters()}</div>
        <div class="grid-foot">
          {GRID_NUMBERS.map((number) => (
            <span key={number}>{number}</span>
          ))}
        </div>
      </div>
    ),
    [turned],
  );
}

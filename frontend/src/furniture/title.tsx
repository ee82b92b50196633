import { type Angle, AngleSymbol } from './angle.tsx';
import './title.css';

export interface TitleCell {
  caption: string;
  /** One line, or two lines in smaller figures ("3 records," "5 photographs waiting"). */
  value: string | string[];
  /** What is said over the value in smaller letters, a line each. */
  notes?: string[] | undefined;
  /** The value says it all; the caption is for those who listen. */
  caption_spoken_only?: boolean | undefined;
  /** 2 days unsent are bold as all values are; 5 days carry the error sign and colour. */
  error?: boolean | undefined;
  /** Where the cell leads to: it is a key then. */
  href?: string | undefined;
}

export interface TitleBlockProps {
  variant: 'airframe' | 'desk';
  cells: TitleCell[];
  /** Of a sheet with sections: the angle of projection they are drawn in. */
  angle?: Angle | undefined;
}

/** Title block at the foot of a sheet: captions over values, joined by hairlines. */
export function TitleBlock({ variant, cells, angle }: TitleBlockProps) {
  return (
    <dl class={`title-block title-${variant}`}>
      {cells.map((cell) => (
        <div key={cell.caption} class={cell.error ? 'title-cell error' : 'title-cell'}>
          <dt class={cell.caption_spoken_only ? 'spoken' : 'cap'}>{cell.caption}</dt>
          {cell.notes?.map((note) => (
            <dd key={note} class="title-note">
              {note}
            </dd>
          ))}
          <dd class={Array.isArray(cell.value) ? 'title-lines' : 'title-value'}>
            {cell.error && <span class="error-sign">!</span>}
            {cell.href ? (
              <a href={cell.href} aria-label={`${cell.caption} ${cell.value}: another one`}>
                {cell.value}
              </a>
            ) : (
              <span>{Array.isArray(cell.value) ? cell.value.join('\n') : cell.value}</span>
            )}
          </dd>
        </div>
      ))}
      {angle && (
        <div class="title-cell">
          <dt class="spoken">Projection</dt>
          <dd>
            <AngleSymbol angle={angle} />
          </dd>
        </div>
      )}
    </dl>
  );
}

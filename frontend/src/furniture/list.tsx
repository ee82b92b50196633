import type { ComponentChildren } from 'preact';
import { GradeMark, type GradeMarkProps } from './grade.tsx';
import { isOtherWindow } from './sheet_link.tsx';
import './list.css';

/** Records nose to tail along a vertical station line. */
export function StationList({ label, children }: { label: string; children: ComponentChildren }) {
  return (
    <ol class="station-list" aria-label={label}>
      {children}
    </ol>
  );
}

export interface ListRowProps {
  /** "A/0002". */
  number: string;
  mark: Pick<GradeMarkProps, 'grade' | 'at_least' | 'state' | 'until'>;
  /** On the right: "Grade 3 · Assessed". */
  right: string;
  /** Place and kind below: "Port · F6 + 2.0 · K–B1 · pitting". */
  below: string;
  /** Member this row stands at; given once, at the first of its records. */
  member?: { name: string; station: string } | undefined;
  /** Where it is stored, while it is nowhere else: "1 copy, this tablet". */
  stored?: string | undefined;
  chosen?: boolean | undefined;
  /** Changed since the last visit: a bar in the margin. */
  changed?: boolean | undefined;
  /** Its place in the list, and how many there are, where not all are drawn. */
  of?: readonly [at: number, all: number] | undefined;
  href: string;
  onOpen?: (() => void) | undefined;
}

/** One record in a list. The chosen row's right edge is open into the sheet. */
export function ListRow(props: ListRowProps) {
  const { member, mark, chosen, onOpen } = props;
  return (
    <li
      class={chosen ? 'list-row chosen' : 'list-row'}
      aria-posinset={props.of?.[0]}
      aria-setsize={props.of?.[1]}
    >
      <span class="list-member">
        {member && (
          <>
            <span class="list-name">{member.name}</span>
            <span class="list-station">{member.station}</span>
          </>
        )}
      </span>
      <a
        class="list-link"
        href={props.href}
        aria-current={chosen ? 'true' : undefined}
        onClick={(event) => {
          if (!onOpen || isOtherWindow(event)) return;
          event.preventDefault();
          onOpen();
        }}
      >
        <GradeMark {...mark} size={34} />
        <span class="list-number">{props.number}</span>
        <span class="list-right">{props.right}</span>
        <span class="list-below">
          {props.below}
          {props.stored !== undefined && <b class="list-stored">{props.stored}</b>}
        </span>
        {props.changed && (
          <span class="change-bar">
            <span class="spoken">changed since the last visit</span>
          </span>
        )}
      </a>
    </li>
  );
}

/** 4 px of ink in the margin: changed since the last visit or issue. The parent must be positioned. */
export function ChangeBar({
  words = 'changed since the last issue',
}: {
  words?: string | undefined;
}) {
  return (
    <span class="change-bar change-bar-margin">
      <span class="spoken">{words}</span>
    </span>
  );
}

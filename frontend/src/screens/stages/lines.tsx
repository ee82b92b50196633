import type { ComponentChildren } from 'preact';
import { lastOvertaken, shortWords } from '../../domain/stamp_words';
import { RivetHead, SheetLink, stateWords } from '../../furniture';
import type { DefectRow, ScreenProps } from '../../services/shop';
import type { CellsLine, DefectLine, Line, RivetsLine } from '../../services/stages';
import { RecordMark } from '../frame/record_mark';

type Go = ScreenProps['go'];

/** What stands in the way, one line each, numbered in tens as on a route card. */
export function StageLines({ lines, go }: { lines: Line[]; go: Go }) {
  return (
    <table class="stage-lines">
      <caption class="spoken">What stands in the way of this stage</caption>
      <thead>
        <tr>
          <th scope="col">line</th>
          <th scope="col">number</th>
          <th scope="col">zone</th>
          <th scope="col">blocked by</th>
          <th scope="col">what clears it</th>
          <th scope="col">who next</th>
          <th scope="col">state</th>
          <th scope="col">stamps</th>
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <OneLine key={line.number} line={line} go={go} />
        ))}
      </tbody>
    </table>
  );
}

function OneLine({ line, go }: { line: Line; go: Go }) {
  if (line.kind === 'defect') return <DefectCells line={line} go={go} />;
  return line.kind === 'rivets' ? <RivetsCells line={line} /> : <CellsCells line={line} />;
}

/** Number of the line, then the sign and name of what stands in the way. */
function LineHead(props: { line: Line; children: ComponentChildren }) {
  return (
    <>
      <td>
        <span class="line-number">{props.line.number}</span>
      </td>
      <th scope="row">{props.children}</th>
    </>
  );
}

/** Who is next; the line has neither state nor stamps of its own. */
function Unsigned({ who }: { who: string }) {
  return (
    <>
      <td>{who}</td>
      <td />
      <td />
    </>
  );
}

/** A name over what it is. */
function Named({ name, what }: { name: string | null; what: string }) {
  return (
    <span>
      <b>{name}</b>
      <small>{what}</small>
    </span>
  );
}

function DefectCells({ line, go }: { line: DefectLine; go: Go }) {
  const { row } = line;
  const href = `/defects/${(row.number ?? '').replace('/', '')}`;
  return (
    <tr>
      <LineHead line={line}>
        <SheetLink class="line-record" href={href} onOpen={go}>
          <RecordMark row={row} size={34} />
          <Named name={row.number} what={row.grade_words} />
        </SheetLink>
      </LineHead>
      <td>{row.zone}</td>
      <td>
        {[row.kind_words?.toLowerCase(), row.part].filter(Boolean).join(', ')}
        {line.is_unnamed && <small>names no stage, lies in the area</small>}
      </td>
      <td>{line.clears}</td>
      <td class={line.who === 'Lead' ? 'line-lead' : ''}>{line.who}</td>
      <td>
        {row.state === 'Offered' ? stateWords('Offered') : row.state}
        <Passed row={row} />
      </td>
      <td>
        <Stamps row={row} />
      </td>
    </tr>
  );
}

/** Stamps that the line asks for: an empty box until somebody signed. */
function Stamps({ row }: { row: DefectRow }) {
  const asked = row.independent
    ? [
        ['INSPECTED', 'insp.'],
        ['INDEPENDENT', 'indep.'],
      ]
    : [['INSPECTED', 'insp.']];
  return (
    <span class="line-stamps">
      {asked.map(([act, words]) => {
        const held = row.stamps.find((stamp) => stamp.act === act && stamp.holds);
        return (
          <span key={act}>
            <span class={held ? 'line-stamp signed' : 'line-stamp'}>{held?.number}</span> {words}
            {!held && <span class="spoken"> not signed</span>}
          </span>
        );
      })}
    </span>
  );
}

/** Of a record that was cleared and is not: the newest stamp that does not hold, and why. */
function Passed({ row }: { row: DefectRow }) {
  const last = lastOvertaken(row);
  if (!last?.overtaken) return null;
  return <small>{`stamp ${last.number}: ${shortWords(last)}`}</small>;
}

/** A rivet line with holes that nobody reached, or that wait for a decision. */
function RivetsCells({ line }: { line: RivetsLine }) {
  const { not_reached, held } = line;
  const parts = [
    not_reached.length > 0 && `${holes(not_reached)} not reached`,
    held.length > 0 && `${holes(held)} for the design authority`,
  ];
  return (
    <tr>
      <LineHead line={line}>
        <span class="line-record">
          <RivetHead state={not_reached.length > 0 ? 'N' : 'D'} size={34} />
          <Named name={line.name} what="rivet line" />
        </span>
      </LineHead>
      <td>{line.row.zone}</td>
      <td>
        {parts.filter(Boolean).join('; ')}
        <small>surveyed for {line.row.number}</small>
      </td>
      <td>{line.clears}</td>
      <Unsigned who={line.who} />
    </tr>
  );
}

/** "hole 21", "holes 24 and 29". */
function holes(named: string[]): string {
  if (named.length === 1) return `hole ${named[0]}`;
  return `holes ${named.slice(0, -1).join(', ')} and ${named.at(-1)}`;
}

/** One line for all cells not looked at; zones few enough are named with what is lacking. */
function CellsCells({ line }: { line: CellsLine }) {
  const zones = line.zones.map((one) => one.zone).join(', ');
  const many = line.zones.length === 1 ? 'zone' : 'zones';
  return (
    <tr>
      <LineHead line={line}>
        <span class="line-record">
          <svg class="line-unseen" aria-hidden="true" width="34" height="34">
            <path class="hatch-unseen" d="M3 17L17 3M3 31L31 3M17 31L31 17" />
            <rect class="ln medium" x="3" y="3" width="28" height="28" />
          </svg>
          <Named name={`${line.missing} cells`} what="NOT LOOKED AT" />
        </span>
      </LineHead>
      <td>{line.zones.length === 1 ? zones : `${line.zones.length}`}</td>
      <td colSpan={2}>
        {line.zones.length === 1
          ? whereWords(line.zones[0]?.missing ?? [])
          : `${many} ${line.zones.map((one) => `${one.zone} ${one.missing.length} of ${one.all}`).join(', ')}`}
      </td>
      <Unsigned who={line.who} />
    </tr>
  );
}

/** "F14–F15 Stbd, K–B1, B1–B2: behind tank". */
function whereWords(missing: CellsLine['zones'][number]['missing']): string {
  const bays = new Map<string, string[]>();
  for (const { bay, hand, row } of missing) {
    const name = `${bay.join('–')} ${hand === 'P' ? 'Port' : hand === 'S' ? 'Stbd' : 'Centre'}`;
    bays.set(name, [...(bays.get(name) ?? []), row]);
  }
  const where = [...bays].map(([bay, rows]) => [bay, ...rows].filter(Boolean).join(', '));
  const reasons = [...new Set(missing.flatMap(({ blocked }) => blocked ?? []))];
  return `${where.join('; ')}${reasons.length > 0 ? `: ${reasons.join(', ')}` : ': no reason given'}`;
}

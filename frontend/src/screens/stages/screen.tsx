import { useMemo } from 'preact/hooks';
import { Empty, Key, KeyOfMarks, Loading, SafetyLine, Sheet, TitleBlock } from '../../furniture';
import { ofAirframe } from '../../services/figures';
import type { ScreenProps } from '../../services/shop';
import { type StageRecord, type StageSheet, stageSheet, stagesOf } from '../../services/stages';
import { seenWords, type TabletShown, tabletWords } from '../../services/tablets';
import { useTablets } from '../assessment/devices';
import { DeskIndex } from '../frame/index_fields';
import { SendKey } from '../frame/send_key';
import { useDeskTitle } from '../frame/title';
import { useLive } from '../live';
import { AreaView } from './area_view';
import { StageLines } from './lines';
import './screen.css';

/** The sheet of one stage: its date, where it is, and what stands in its way, one line each. */
export default function Stages({ shop, params, go }: ScreenProps) {
  const every = useLive(shop, () => shop.book.defects(), []);
  const rows = every && ofAirframe(every, shop.airframe);
  const coverage = useLive(shop, () => shop.book.records('coverage'), []);
  const records = useLive(shop, () => shop.book.records('stage'), []);
  const rivet_lines = useLive(shop, () => shop.book.records('rivet_line'), []);
  const { tablets } = useTablets(shop);
  const stages = stagesOf(records ?? []);
  const today = shop.today();
  const sheets = useMemo(() => {
    const held = {
      ...{ rows: rows ?? [], coverage: coverage ?? [], rivet_lines: rivet_lines ?? [] },
      ...{ stages, definition: shop.definition },
    };
    return stages.map((stage) => stageSheet(stage, held, today));
  }, [every, coverage, records, rivet_lines, shop.definition, today]);
  const sheet = sheets.find((one) => one.stage.title === params.stage) ?? nextOf(sheets);
  const title = useDeskTitle(shop, sheet?.stage.title ?? 'Stages');
  title.splice(-1, 0, { caption: 'Tablets', value: tabletWords(tablets) });
  return (
    <Sheet
      layout="desk"
      top={<DeskIndex at="/stages" go={go} />}
      legend={
        <>
          <SendKey shop={shop} size="small" />
          <KeyOfMarks grades={[]} />
        </>
      }
      title={<TitleBlock variant="desk" cells={title} />}
    >
      {!rows || !coverage || !records || !rivet_lines ? (
        <Loading what="The stages" />
      ) : !sheet ? (
        <Empty looked_at title="No stage in this book" cells="0 stages">
          <p>A stage is a closing or a test with its date; defects name the stage they block.</p>
        </Empty>
      ) : (
        <div class="stages">
          <StageKeys sheets={sheets} chosen={sheet.stage} go={go} />
          <div class="stage-top">
            <StageHead sheet={sheet} tablets={tablets} />
            {shop.definition && <AreaView sheet={sheet} definition={shop.definition} />}
          </div>
          {sheet.lines.length > 0 && <StageLines lines={sheet.lines} go={go} />}
          <footer class="stage-limits">
            <p>
              This book holds defects, rivet lines and what was looked at. Fastener layouts,
              temporary installations, loans, units, closing photographs and the check for tools are
              not in it: see to them by hand. So no stage is stamped clear here.
            </p>
            <SafetyLine wording="short" />
          </footer>
        </div>
      )}
    </Sheet>
  );
}

/** The nearest stage that has not passed its date, else the last. */
function nextOf(sheets: StageSheet[]): StageSheet | undefined {
  return sheets.find((one) => one.days === null || one.days >= 0) ?? sheets.at(-1);
}

function StageKeys(props: { sheets: StageSheet[]; chosen: StageRecord; go: ScreenProps['go'] }) {
  return (
    <nav class="stage-keys" aria-label="Stages">
      {props.sheets.map(({ stage, days, lines }) => (
        <Key
          key={stage.record}
          label={stage.title}
          second={`${daysWords(days)} · ${linesWords(lines.length)}`}
          size="small"
          letters={18}
          chosen={stage.record === props.chosen.record}
          onPress={() => props.go(`/stages/${encodeURIComponent(stage.title)}`, 'replace')}
        />
      ))}
    </nav>
  );
}

function StageHead({ sheet, tablets }: { sheet: StageSheet; tablets: TabletShown[] }) {
  const { stage, lines, carried } = sheet;
  const out = tablets.filter((one) => !one.is_in && one.shut === null);
  return (
    <header class="stage-head">
      <div class="stage-name">
        <h1>{stage.title}</h1>
        <p>
          <b>{stage.scope}</b>
          <br />
          {dateWords(stage.date)} · {daysWords(sheet.days)}
        </p>
      </div>
      <div class="stage-state">
        {lines.length > 0 && <p class="stage-count">{lines.length}</p>}
        <div>
          <h2>
            {lines.length > 0
              ? `NOT CLEAR – ${linesWords(lines.length).toUpperCase()}`
              : 'NOTHING IN ITS WAY IN THIS BOOK'}
          </h2>
          <p>{blockWords(sheet)}</p>
        </div>
      </div>
      <div class="stage-notes">
        <p>
          <b>Carried forward: {carried.length === 0 ? 'nothing.' : ''}</b>{' '}
          {carried.map((row) => `${row.number} to ${carriedTo(row)}`).join(', ')}
        </p>
        {out.length > 0 && <p>{outWords(out)}</p>}
      </div>
    </header>
  );
}

/** "Tablet B not in since 2025-09-06, 58 days: it may hold more for this stage." */
function outWords(out: TabletShown[]): string {
  const named = out.map((tablet) => `Tablet ${tablet.letter} ${seenWords(tablet)}`).join('. ');
  return `${named}: ${out.length === 1 ? 'it' : 'they'} may hold more for this stage.`;
}

function blockWords({ lines, cells, cells_looked_at }: StageSheet): string {
  const defects = lines.filter((line) => line.kind === 'defect');
  const independent = defects.filter((line) => line.kind === 'defect' && line.row.independent);
  const parts = [defects.length === 1 ? '1 defect' : `${defects.length} defects`];
  if (independent.length > 0)
    parts.push(
      independent.length === defects.length
        ? 'all with independent inspection'
        : `${independent.length} with independent inspection`,
    );
  if (cells > 0) parts.push(`${cells_looked_at} of ${cells} cells looked at`);
  return parts.join(', ');
}

function carriedTo(row: { deferral: unknown; stage: string | null }): string {
  const { to_stage, to_date } = (row.deferral ?? {}) as { to_stage?: string; to_date?: string };
  return to_stage ?? to_date ?? row.stage ?? 'no day given';
}

function linesWords(count: number): string {
  return count === 1 ? '1 line' : `${count} lines`;
}

function daysWords(days: number | null): string {
  if (days === null) return 'no date';
  if (days === 0) return 'today';
  const many = Math.abs(days) === 1 ? 'day' : 'days';
  return days > 0 ? `${days} ${many} to go` : `${-days} ${many} over its date`;
}

const WEEKDAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];

/** "Saturday 2025-11-15". */
function dateWords(date: string): string {
  const day = new Date(`${date}T00:00:00Z`).getUTCDay();
  return Number.isNaN(day) ? 'No date' : `${WEEKDAYS[day]} ${date}`;
}

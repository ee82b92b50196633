import { useMemo, useState } from 'preact/hooks';
import { DeskKey, Empty, Loading, SafetyLine, Sheet, TitleBlock } from '../../furniture';
import { ofAirframe } from '../../services/figures';
import { looksHere } from '../../services/of_airframe';
import type { ScreenProps, Shop } from '../../services/shop';
import type { RivetsHeld } from '../../services/stage_rivets';
import { type StageRecord, type StageSheet, stageSheet, stagesOf } from '../../services/stages';
import { seenWords, type TabletShown, tabletWords } from '../../services/tablets';
import { useTablets } from '../assessment/devices';
import { SendKey } from '../frame/send_key';
import { useDeskTitle } from '../frame/title';
import { useLive } from '../live';
import { CountedIndex } from '../questions/counted_index';
import { AreaView } from './area_view';
import { StageLines } from './lines';
import { StageForm } from './stage_form';
import './screen.css';

/** The sheet of one stage: its date, where it is, and what stands in its way, one line each. */
export default function Stages({ shop, params, go }: ScreenProps) {
  const sheets = useSheets(shop);
  const { tablets } = useTablets(shop);
  const asked = params.stage;
  const sheet = asked ? sheets?.find((one) => one.stage.title === asked) : nextOf(sheets ?? []);
  const title = useDeskTitle(shop, sheet?.stage.title ?? 'Stages');
  title.splice(-1, 0, { caption: 'Tablets', value: tabletWords(tablets) });
  const [writing, setWriting] = useState<Writing>(null);
  const isLead = shop.session?.role === 'lead';
  const open = (name: string, how?: 'replace') => {
    setWriting(null);
    go(`/stages/${encodeURIComponent(name)}`, how);
  };
  return (
    <Sheet
      layout="desk"
      top={<CountedIndex at="/stages" {...{ shop, go }} />}
      legend={<SendKey shop={shop} size="small" />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      {sheets === undefined ? (
        <Loading what="The stages" />
      ) : (
        <div class="stages">
          <StageKeys
            sheets={sheets}
            chosen={sheet?.stage}
            onOpen={(name) => open(name, 'replace')}
            onNew={isLead ? () => setWriting('new') : null}
            onChange={isLead && sheet && !writing ? () => setWriting('change') : null}
          />
          {writing && (
            <StageForm
              key={writing}
              shop={shop}
              stage={writing === 'change' && sheet ? sheet.stage : null}
              titles={sheets.map((one) => one.stage.title)}
              onBack={() => setWriting(null)}
              onDone={open}
            />
          )}
          {sheet ? (
            <OneStage shop={shop} sheet={sheet} tablets={tablets} go={go} />
          ) : (
            <NoStage asked={asked} all={sheets.length} />
          )}
        </div>
      )}
    </Sheet>
  );
}

/** A new stage, or a change of the one shown. */
type Writing = 'new' | 'change' | null;

/** The sheets of all stages, worked out anew when the book changes; undefined until it is read. */
function useSheets(shop: Shop): StageSheet[] | undefined {
  const every = useLive(shop, () => shop.book.defects(), []);
  const coverage = useLive(shop, () => looksHere(shop), [shop.airframe?.record]);
  const records = useLive(shop, () => shop.book.records('stage'), []);
  const rivets = useLive(shop, () => rivetsOf(shop), []);
  const { definition, airframe } = shop;
  const today = shop.today();
  return useMemo(() => {
    if (!every || !coverage || !records || !rivets) return undefined;
    const stages = stagesOf(records);
    const rows = ofAirframe(every, airframe);
    const held = { rows, coverage, rivets, stages, definition };
    return stages.map((stage) => stageSheet(stage, held, today));
  }, [every, coverage, records, rivets, definition, airframe, today]);
}

/** Reading rivet lines takes as much code as this sheet: it comes when there is one to read. */
async function rivetsOf(shop: Shop): Promise<RivetsHeld[]> {
  const records = await shop.book.records('rivet_line');
  if (records.length === 0) return [];
  const { rivetsInTheWay } = await import('../../services/stage_rivets');
  return rivetsInTheWay(records);
}

function OneStage(props: {
  shop: Shop;
  sheet: StageSheet;
  tablets: TabletShown[];
  go: ScreenProps['go'];
}) {
  const { sheet } = props;
  const { definition } = props.shop;
  return (
    <>
      <div class="stage-top">
        <StageHead sheet={sheet} tablets={props.tablets} />
        {definition && <AreaView sheet={sheet} definition={definition} />}
      </div>
      {sheet.lines.length > 0 && <StageLines lines={sheet.lines} go={props.go} />}
      <footer class="stage-limits">
        <p>
          This book holds defects, rivet lines and what was looked at. Fastener layouts, temporary
          installations, loans, units, closing photographs and the check for tools are not in it:
          see to them by hand. So no stage is stamped clear here.
        </p>
        <SafetyLine wording="short" />
      </footer>
    </>
  );
}

function NoStage({ asked, all }: { asked: string | undefined; all: number }) {
  return (
    <Empty
      looked_at
      title={asked ? `No stage called ${asked}` : 'No stage in this book'}
      cells={all === 1 ? '1 stage in all' : `${all} stages in all`}
    >
      <p>
        A stage is a closing or a test with its date; defects name the stage they block. The lead
        writes one with the key New stage.
      </p>
    </Empty>
  );
}

/** The nearest stage that has not passed its date, else the last. */
function nextOf(sheets: StageSheet[]): StageSheet | undefined {
  return sheets.find((one) => one.days === null || one.days >= 0) ?? sheets.at(-1);
}

function StageKeys(props: {
  sheets: StageSheet[];
  chosen: StageRecord | undefined;
  onOpen: (title: string) => void;
  /** null: this person may not write one, or change the one that is open. */
  onNew: (() => void) | null;
  onChange: (() => void) | null;
}) {
  if (props.sheets.length === 0 && !props.onNew) return null;
  return (
    <nav class="stage-keys" aria-label="Stages">
      {props.sheets.map(({ stage, days, lines }) => (
        <DeskKey
          key={stage.record}
          label={stage.title}
          second={`${daysWords(days)} · ${linesWords(lines.length)}`}
          chosen={stage.record === props.chosen?.record}
          onPress={() => props.onOpen(stage.title)}
        />
      ))}
      {props.onChange && (
        <DeskKey
          label="Change"
          second={props.chosen?.title}
          place="stage-do"
          onPress={props.onChange}
        />
      )}
      {props.onNew && <DeskKey label="New stage" place="stage-do" onPress={props.onNew} />}
    </nav>
  );
}

function StageHead(props: { sheet: StageSheet; tablets: TabletShown[] }) {
  const { sheet, tablets } = props;
  const { stage, lines, carried, without_face } = sheet;
  const out = tablets.filter((one) => one.is_told && !one.is_in && one.shut === null);
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
        {without_face.length > 0 && (
          <p>
            <b>Looked at, no face named: {without_face.join(', ')}.</b> It counts for none of their
            faces; look again at each face.
          </p>
        )}
      </div>
    </header>
  );
}

/** "Tablet B not in since 2025-09-06, 58 days: it may hold more for this stage." */
function outWords(out: TabletShown[]): string {
  const named = out.map((tablet) => `Tablet ${tablet.letter} ${seenWords(tablet)}`).join('. ');
  return `${named}: ${out.length === 1 ? 'it' : 'they'} may hold more for this stage.`;
}

/** What the lines are: "6 lines: 5 defects, 1 of cells not looked at; 14 of 16 cells looked at". */
export function blockWords({
  lines,
  cells,
  cells_looked_at,
}: Pick<StageSheet, 'lines' | 'cells' | 'cells_looked_at'>): string {
  const defects = lines.filter((line) => line.kind === 'defect');
  const independent = defects.filter((line) => line.kind === 'defect' && line.row.independent);
  const parts = [defectWords(defects.length)];
  if (independent.length > 0)
    parts.push(
      independent.length === defects.length
        ? 'all with independent inspection'
        : `${independent.length} with independent inspection`,
    );
  const rivets = lines.filter((line) => line.kind === 'rivets').length;
  if (rivets > 0) parts.push(rivets === 1 ? '1 rivet line' : `${rivets} rivet lines`);
  if (lines.some((line) => line.kind === 'cells')) parts.push('1 line for cells not looked at');
  const words = parts.join(', ');
  return cells > 0 ? `${words}. ${cells_looked_at} of ${cells} cells looked at` : words;
}

function defectWords(count: number): string {
  if (count === 0) return 'no defect';
  return count === 1 ? '1 defect' : `${count} defects`;
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

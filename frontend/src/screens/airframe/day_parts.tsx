import { surveysHere } from '../../services/of_airframe';
import type { Shop } from '../../services/shop';
import { useLive } from '../live';
import type { Looking } from './looking';
import { Picked } from './picked';

interface PartProps {
  shop: Shop;
  looking: Looking;
  onLooking: (change: Partial<Looking>) => void;
  run: (work: () => Promise<void>) => void;
  onBack: () => void;
}

/** The survey that what is found belongs to; one may be started here. */
export function Surveys({ shop, looking, onLooking, run, onBack }: PartProps) {
  const surveys = (useLive(shop, () => surveysHere(shop), []) ?? []).filter((one) => one.title);
  const choose = (survey: string) => {
    onLooking({ survey });
    onBack();
  };
  const start = () =>
    run(async () => {
      if (!shop.session) return;
      const survey = await shop.capture.startSurvey(shop.session, {
        title: nextTitle(surveys.map((one) => String(one.title))),
        date: shop.today(),
        ...(looking.method ? { method: looking.method } : {}),
      });
      choose(survey);
    });
  const newest = [...surveys].sort((one, other) =>
    String(other.date ?? '').localeCompare(String(one.date ?? '')),
  );
  return (
    <Picked
      label="Survey"
      back="surveys"
      onBack={onBack}
      options={[
        { label: 'START ONE', second: 'today', onPick: start },
        ...newest.slice(0, 7).map((one) => ({
          label: String(one.title),
          second: String(one.date ?? ''),
          chosen: one.record === looking.survey,
          onPick: () => choose(one.record),
        })),
      ]}
    />
  );
}

/** "SV-7" after SV-1 … SV-6. */
export function nextTitle(titles: readonly string[]): string {
  const numbers = titles.map((title) => Number(/^SV-(\d+)$/.exec(title)?.[1] ?? 0));
  return `SV-${Math.max(0, ...numbers) + 1}`;
}

/** "in date to 2026-05-31"; "OUT OF DATE since 2025-09-30". */
export function dueWords(due: string, today: string): string {
  if (due === '') return 'no check date';
  return due < today ? `OUT OF DATE since ${due}` : `in date to ${due}`;
}

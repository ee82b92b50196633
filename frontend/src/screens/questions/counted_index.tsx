import type { ScreenProps } from '../../services/shop';
import { DeskIndex } from '../frame/index_fields';
import { useLive } from '../live';
import { useQuestions } from './asked';

/** The top border of a sheet that asks nothing itself: it says the same count of open questions. */
export function CountedIndex({ at, shop, go }: Pick<ScreenProps, 'shop' | 'go'> & { at: string }) {
  const rows = useLive(shop, () => shop.book.defects(), []);
  const asked = useQuestions(shop, rows);
  return <DeskIndex at={at} go={go} asked={asked?.questions.length} />;
}

import { Empty, ErrorFrame, Key, Loading, Sheet, TitleBlock } from '../../furniture';
import type { ScreenProps, Shop } from '../../services/shop';
import { useServerAnswer } from '../frame/asked_server';
import { SendKey } from '../frame/send_key';
import { useDeskTitle } from '../frame/title';
import { CountedIndex } from '../questions/counted_index';
import type { TabletRow } from './register';
import { TabletBlock } from './tablet_block';
import './screen.css';

/** The register of tablets as of their last exchange: each with its numbers accounted for, what waits on it, and what wants doing. */
export default function Tablets({ shop, go }: ScreenProps) {
  const title = useDeskTitle(shop, 'Tablets');
  const { answer: rows, failed, again } = useServerAnswer<TabletRow[]>(shop, readTablets);
  return (
    <Sheet
      layout="desk"
      top={<CountedIndex at="/people" {...{ shop, go }} />}
      legend={<SendKey shop={shop} size="small" />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      <div class="tablets">
        <header class="tablets-head">
          <h1>Tablets</h1>
          <p>
            As each tablet told at its last exchange; nothing is booked in by hand. Every number
            from the first to the last is a record here, or says why it is not.
          </p>
          <Key label="ASK THE SERVER" size="small" onPress={() => void again()} />
          <Key label="PEOPLE AND DEVICES" size="small" onPress={() => go('/people')} />
        </header>
        {failed && <ErrorFrame title={failed.what} text={failed.todo} />}
        {!rows && !failed && <Loading what="The register of tablets" />}
        {rows?.length === 0 && <Empty looked_at title="No tablet is enrolled yet" />}
        {rows?.map((row) => (
          <TabletBlock key={row.device} row={row} mine={row.device === shop.device?.tablet} />
        ))}
      </div>
    </Sheet>
  );
}

const readTablets = (shop: Shop) => shop.api.get<TabletRow[] & never[]>('/api/tablets');

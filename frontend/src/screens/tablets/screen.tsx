import { useCallback, useEffect, useState } from 'preact/hooks';
import { Empty, ErrorFrame, Key, Loading, Sheet, TitleBlock } from '../../furniture';
import type { ScreenProps, Shop } from '../../services/shop';
import { DeskIndex } from '../frame/index_fields';
import { SendKey } from '../frame/send_key';
import { useDeskTitle } from '../frame/title';
import { troubleOf } from '../frame/words';
import type { TabletRow } from './register';
import { TabletBlock } from './tablet_block';
import './screen.css';

/** Books tablets in: each with its numbers accounted for, what waits on it, and what wants doing. */
export default function Tablets({ shop, go }: ScreenProps) {
  const title = useDeskTitle(shop, 'Tablets');
  const { rows, failed, again } = useRegister(shop);
  return (
    <Sheet
      layout="desk"
      top={<DeskIndex at="/people" go={go} />}
      legend={<SendKey shop={shop} size="small" />}
      title={<TitleBlock variant="desk" cells={title} />}
    >
      <div class="tablets">
        <header class="tablets-head">
          <h1>Tablets</h1>
          <p>Every number from the first to the last is a record here, or says why it is not.</p>
          <Key label="LOOK AGAIN" size="small" onPress={() => void again()} />
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

/** Asked again when the session changes: only a lead or clerk whom the server knows is shown it. */
function useRegister(shop: Shop) {
  const [rows, setRows] = useState<TabletRow[]>();
  const [failed, setFailed] = useState<{ what: string; todo: string } | null>(null);
  const again = useCallback(async () => {
    try {
      setRows(await shop.api.get<TabletRow[] & never[]>('/api/tablets'));
      setFailed(null);
    } catch (error) {
      setFailed(troubleOf(error));
    }
  }, [shop]);
  const who = `${shop.session?.person} ${shop.session?.role} ${shop.session?.online}`;
  useEffect(() => void again(), [again, who]);
  return { rows, failed, again };
}

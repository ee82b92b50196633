import { Empty, Key, Loading, Sheet, TitleBlock } from '../../furniture';
import type { ScreenProps } from '../../services/shop';
import { useAirframeTitle } from '../frame/title';
import { useLive } from '../live';
import { Live } from './live';
import { OneView } from './one_view';
import '../frame/picture_keys.css';
import './screen.css';

/** The live view over an earlier picture, and how two pictures of one view lie on each other. */
export default function SameView(props: ScreenProps) {
  const { shop, params, go } = props;
  const number = params.number ?? '';
  const row = useLive(shop, async () => (await shop.book.numbered(number))[0] ?? null, [number]);
  const title = useAirframeTitle(shop);
  if (!row)
    return (
      <Sheet layout="airframe" title={<TitleBlock variant="airframe" cells={title} />}>
        {row === undefined ? (
          <Loading what={`Record ${number}`} />
        ) : (
          <Empty looked_at title={`There is no record ${number} here`}>
            <Key label="TO THE AIRFRAME" kind="main" onPress={() => go('/airframe')} />
          </Empty>
        )}
      </Sheet>
    );
  if (params.photograph)
    return <OneView key={params.photograph} {...props} row={row} photograph={params.photograph} />;
  return <Live key={row.record} {...props} row={row} />;
}

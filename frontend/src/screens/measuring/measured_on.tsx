import { DeskKey } from '../../furniture';
import type { DefectRow, ScreenProps, Shop } from '../../services/shop';
import { useLive } from '../live';
import type { Picture } from '../photograph/pictures';
import { MeasuredDrawn, ScaleDrawn, scaleWords } from './drawn';
import { useMeasuring, worded } from './measuring';

interface MeasuredOnProps {
  shop: Shop;
  row: Pick<DefectRow, 'record'>;
  picture: Picture;
}

/** The scale of a photograph and what was measured with it, drawn in its own pixels. */
export function MeasuredOn({ shop, row, picture }: MeasuredOnProps) {
  const { standing, toldOf } = useMeasuring(shop, picture, row.record);
  const withWords = standing ? worded(standing) : new Set<string>();
  return (
    <>
      {standing?.scale && <ScaleDrawn scale={standing.scale} height_px={picture.height_px} quiet />}
      {standing?.measurements.map((one) => {
        const told = toldOf(one);
        const words = 'told' in told && withWords.has(one.record) ? told.told.words : undefined;
        const points = one.points.map(([x, y]) => ({ x: x / 10, y: y / 10 }));
        return <MeasuredDrawn key={one.record} {...{ shape: one.shape, points, words }} />;
      })}
    </>
  );
}

/** The same of a photograph that is known by its record only. */
export function MeasuredOf({ shop, photograph }: { shop: Shop; photograph: string }) {
  const plain = useLive(shop, () => shop.book.plain(photograph), [photograph]);
  if (typeof plain?.defect !== 'string' || typeof plain.height_px !== 'number') return null;
  const picture = { ...plain, record: photograph } as unknown as Picture;
  return <MeasuredOn shop={shop} row={{ record: plain.defect }} picture={picture} />;
}

/** Leads to the scale and the measurements of a photograph. */
export function ToMeasuring(
  props: MeasuredOnProps & Pick<ScreenProps, 'go'> & { address: string },
) {
  const { shop, row, picture, go, address } = props;
  const scale = useMeasuring(shop, picture, row.record).standing?.scale;
  return (
    <DeskKey
      label="SCALE AND LENGTH"
      second={scale ? scaleWords(scale) : 'none set yet'}
      onPress={() => go(`${address}/photograph/${picture.record}/measure`)}
    />
  );
}

import { DeskKey } from '../../furniture';
import type { DefectRow, ScreenProps, Shop } from '../../services/shop';
import type { Picture } from '../photograph/pictures';
import { MeasuredDrawn, ScaleDrawn, scaleWords } from './drawn';
import { useMeasuring } from './measuring';

interface MeasuredOnProps {
  shop: Shop;
  row: DefectRow;
  picture: Picture;
}

/** The scale of a photograph and what was measured with it, drawn in its own pixels. */
export function MeasuredOn({ shop, row, picture }: MeasuredOnProps) {
  const { standing, toldOf } = useMeasuring(shop, picture, row.record);
  return (
    <>
      {standing?.scale && <ScaleDrawn scale={standing.scale} height_px={picture.height_px} quiet />}
      {standing?.measurements.map((one) => {
        const told = toldOf(one);
        const words = 'told' in told ? told.told.words : undefined;
        const points = one.points.map(([x, y]) => ({ x: x / 10, y: y / 10 }));
        return <MeasuredDrawn key={one.record} {...{ shape: one.shape, points, words }} />;
      })}
    </>
  );
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

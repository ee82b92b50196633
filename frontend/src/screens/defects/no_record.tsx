import { DeskKey, Empty } from '../../furniture';
import type { DefectRow, Shop } from '../../services/shop';
import { useLive } from '../live';
import { fileNumber } from './address';

/** No record of that number here: of none at all, or of another airframe of the book. */
export function NoRecord(props: {
  shop: Shop;
  number: string | undefined;
  every: readonly DefectRow[];
  /** Records of the airframe that is shown. */
  all: number;
}) {
  const { shop, number, every, all } = props;
  const airframes = useLive(shop, () => shop.places.airframes(), []);
  const other = number ? every.find((row) => fileNumber(row) === number) : undefined;
  const its = airframes?.find(({ record }) => record === other?.airframe);
  if (other && its)
    return (
      <Empty
        looked_at
        title={`${other.number} is a record of ${its.type} ${its.constructor_number}`}
        cells={`this browser shows ${shop.airframe?.constructor_number ?? 'another airframe'}`}
      >
        <DeskKey
          label={`SHOW ${its.constructor_number}`}
          onPress={() => void shop.places.chooseAirframe(its.record)}
        />
      </Empty>
    );
  return (
    <Empty
      looked_at
      title={number ? `No record ${number} in this book` : 'No record chosen'}
      cells={`${all} records in all`}
    >
      <p>
        {all === 0
          ? 'Records come from the tablets: capture one at the airframe, or wait for a tablet to come in.'
          : 'Choose a record from the list.'}
      </p>
    </Empty>
  );
}

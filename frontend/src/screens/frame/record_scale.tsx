import { stationOf } from '../../domain/place';
import { StationScale, wholeOf, windowAround } from '../../furniture';
import type { DefectRow, Shop } from '../../services/shop';

/** The station scale of a record's structure, its flag at the record. */
export function RecordScale({ shop, row }: { shop: Shop; row: DefectRow }) {
  const { definition } = shop;
  const structure = definition?.structures.find((one) => one.name === row.structure);
  if (!definition || !structure || !row.place) return null;
  const members = structure.members.map((member) => ({
    name: member.name,
    station: Number(member.station),
    main: member.main === true,
    half: member.kind.startsWith('half'),
  }));
  const station = Number(stationOf(definition, row.place).value);
  return (
    <StationScale
      members={members}
      axis={structure.axis}
      window={windowAround(station, wholeOf(members), globalThis.innerWidth || 800)}
      position={station}
    />
  );
}

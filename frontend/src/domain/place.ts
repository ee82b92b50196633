/** Places on an airframe: stations, zones, cells, steps, words, views, by its definition. */

export {
  atStation,
  type Definition,
  type Hand,
  type Member,
  memberBefore,
  memberOf,
  type Place,
  type PlaceEnd,
  type Plating,
  type ProfileHeight,
  readPosition,
  type Structure,
  stationOf,
  structureOf,
  type View,
  type ViewLine,
  type Zone,
} from './place_stations';
export { type Step, stepBay, stepStrake } from './place_steps';
export { placeAt, viewPoint } from './place_views';
export { HAND_WORDS, placeWords, stationWords } from './place_words';
export {
  type Cell,
  cellOf,
  handOf,
  strakeIndexes,
  zoneOf,
  zoneParts,
  zonesOf,
} from './place_zones';

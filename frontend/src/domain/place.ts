/** Places on an airframe: stations, zones, cells, steps, words, views, by its definition. */

export {
  drawnViews,
  isShown,
  picturePlace,
  picturePoint,
  pictureViews,
} from './place_pictures';
export {
  atStation,
  type Calibration,
  type Definition,
  type Hand,
  type Member,
  memberBefore,
  memberOf,
  type Picture,
  type PictureView,
  type Place,
  type PlaceEnd,
  type Plating,
  type ProfileHeight,
  readPosition,
  type Structure,
  stationOf,
  structureOf,
  type TouchedPoint,
  type View,
  type ViewLine,
  type Zone,
} from './place_stations';
export { type Step, stepBay, stepStrake } from './place_steps';
export { placeAt, viewPoint } from './place_views';
export { enteredWords, HAND_WORDS, isGone, isOff, placeWords, stationWords } from './place_words';
export {
  type Cell,
  cellOf,
  handOf,
  strakeIndexes,
  zoneOf,
  zoneParts,
  zonesOf,
} from './place_zones';

import './tokens.css';
import './base.css';

export { announce } from './announce.ts';
export { type IndexField, SheetIndex, type SheetIndexProps } from './fields.tsx';
export { actOfKeyboard, type PadAct, type PadUnit, type Typed, typedAfter } from './figures.ts';
export { GradeMark, type GradeMarkProps } from './grade.tsx';
export { Key, type KeyProps, KeyRow } from './key.tsx';
export { KeyOfMarks, type KeyOfMarksProps } from './marks.tsx';
export { textWidth, useWidth } from './measured.ts';
export { NumberPad, type NumberPadProps } from './pad.tsx';
export { PositionBar, type PositionCell } from './position.tsx';
export { StationScale, type StationScaleProps } from './scale.tsx';
export { Sheet, type SheetCorner, type SheetLayout, type SheetProps } from './sheet.tsx';
export {
  HULL_PX_PER_UNIT,
  type ScaleMember,
  type ScaleWindow,
  stationAt,
  stationX,
  WING_PX_PER_UNIT,
  wholeOf,
  windowAround,
} from './ticks.ts';
export { TitleBlock, type TitleBlockProps, type TitleCell } from './title.tsx';
export {
  GRADE_NAMES,
  type GradeFigure,
  gradeWords,
  MARK_STATES,
  type MarkState,
  RIVET_WORDS,
  type RivetState,
  SAFETY_FULL,
  SAFETY_SHORT,
  STATE_DRAWN,
  stateWords,
} from './words.ts';

import './tokens.css';
import './base.css';

export { type Angle, AngleSymbol, type AngleSymbolProps } from './angle.tsx';
export { announce } from './announce.ts';
export { CARD_MM, CardSize, type CardSizeProps, targetInside } from './cardsize.tsx';
export { DimensionLine, type DimensionLineProps } from './dimension.tsx';
export { type IndexField, SheetIndex, type SheetIndexProps } from './fields.tsx';
export {
  FigureCell,
  type FigureCellProps,
  type FigureLine,
  FigureLines,
  FigureTable,
} from './figure.tsx';
export { actOfKeyboard, type PadAct, type PadUnit, type Typed, typedAfter } from './figures.ts';
export { Flag } from './flag.tsx';
export { PictureBounds, PictureScale } from './frame.ts';
export { GradeMark, type GradeMarkProps } from './grade.tsx';
export { CutMetal, type HatchProps, NotLookedAt, type NotLookedAtProps } from './hatch.tsx';
export { DeskKey, Key, type KeyProps, KeyRow } from './key.tsx';
export { useKeydown } from './keyboard.ts';
export {
  type Box,
  clearest,
  markBox,
  type PlacedLabel,
  placeLabels,
  shared,
  type ViewMark,
} from './labels.ts';
export { ChangeBar, ListRow, type ListRowProps, StationList } from './list.tsx';
export { Loupe, type LoupeProps, loupeCentre } from './loupe.tsx';
export { KeyOfMarks, type KeyOfMarksProps } from './marks.tsx';
export { textWidth, useWidth } from './measured.ts';
export {
  Correction,
  type CorrectionProps,
  Empty,
  type EmptyProps,
  ErrorFrame,
  type ErrorFrameProps,
  Loading,
  type LoadingProps,
  SafetyLine,
  type SafetyLineProps,
  StoredNumber,
} from './notice.tsx';
export { NumberPad, type NumberPadProps } from './pad.tsx';
export { DetailPicture, type DetailPictureProps, type Grain } from './picture.tsx';
export { PositionBar, type PositionCell } from './position.tsx';
export { RivetHead, type RivetHeadProps } from './rivet.tsx';
export { StationScale, type StationScaleProps } from './scale.tsx';
export { Sheet, type SheetCorner, type SheetLayout, type SheetProps } from './sheet.tsx';
export { isOtherWindow, SheetLink } from './sheet_link.tsx';
export { spread } from './spread.ts';
export {
  Stamp,
  type StampAct,
  StampPair,
  type StampPairProps,
  type StampProps,
  UnsignedStamp,
  type UnsignedStampProps,
} from './stamp.tsx';
export {
  Question,
  type QuestionProps,
  type StandingFigure,
  TwoValues,
  type TwoValuesProps,
} from './strip.tsx';
export { arrowStrokes, type Point, type RingStroke, ringStroke } from './strokes.ts';
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
export { TouchOff, type TouchOffProps } from './touchoff.tsx';
export {
  AreaMeant,
  type AreaMeantProps,
  Balloon,
  DetailLeader,
  type Fwd,
  FwdArrow,
  ViewFrame,
  type ViewFrameProps,
} from './view.tsx';
export { type LabelledMark, ViewMarks, type ViewMarksProps } from './viewmarks.tsx';
export { WaxArrow, type WaxArrowProps, WaxRing, type WaxRingProps, WaxStroke } from './wax.tsx';
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

/** The works of studies: axes, designs, chunks for threads, choosing among designs, seeds and years. */

export type { ShareRange } from '../findings/years.ts';
export type { Asked, AskedKind, AskedRow } from '../study/compare/asked.ts';
export type { CompareNotice, CompareRow } from '../study/compare/compare.ts';
export type { Compared, Dearer } from '../study/compare/dearer.ts';
export type { ComparedFigures, ComparedName } from '../study/compare/figures.ts';
export type { CompareYears, CompareYearsRow, YearsSpread } from '../study/compare/in-years.ts';
export * from '../study/designs/axes.ts';
export * from '../study/designs/chunk.ts';
export type { Design } from '../study/designs/designer.ts';
export { NOT_HARDER } from '../study/designs/harder.ts';
export { HEADLINE, type Headline, type HeadlineName } from '../study/designs/headline.ts';
export * from '../study/designs/notices.ts';
export { DESIGN_FIGURES, type DesignFigureName, type Figures } from '../study/designs/play.ts';
export { MOST_SAMPLED_AXES, sampleDesigns } from '../study/designs/sample.ts';
export { openStudy, readSource, type Study } from '../study/designs/study.ts';
export { refuseYearAxes } from '../study/designs/year-axes.ts';
export * from '../study/growth.ts';
export type { Change, ChangeCaution, ChangedValue, ChangeReason } from '../study/improve/changes/change.ts';
export type { Unplayed } from '../study/improve/improve.ts';
export type { Outcome } from '../study/improve/outcome.ts';
export type { TriedChange } from '../study/improve/tried.ts';
export type { OnPlayed } from '../study/on-played.ts';
export * from '../study/size/dark-season.ts';
export type { Judge, Judged } from '../study/size/judge.ts';
export {
  holds,
  nearestFigure,
  type Requirement,
  readRequirement,
  statisticOf,
} from '../study/size/requirement.ts';
export {
  type Candidate,
  type Chooser,
  type Neighbour,
  neighboursOf,
  newChooser,
  refuseCircumstances,
  type SizeAnswer,
  type SizeAsk,
  type Tried,
  triedDesign,
} from '../study/size/size.ts';
export * from '../study/size/weakest.ts';
export type { Guess } from '../study/sway/guess.ts';
export type { Scale } from '../study/sway/plausible.ts';
export { nearest } from '../study/sway/rank.ts';
export type { SwayLeftOut } from '../study/sway/sway.ts';
export { SWUNG, type Swayed, type SwayPlay, type SwungName } from '../study/sway/swayed.ts';
export type { Turn } from '../study/sway/turn.ts';
export { WEEK_ROUNDS } from '../study/week/week.ts';
export * from '../study/week/week-years.ts';
export { withEveryYear } from '../study/years/every-year.ts';
export * from '../study/years/how-sure.ts';
export { figureOfRow, MANY_YEARS_FIGURES, PERCENTILES } from '../study/years/many-years.ts';
export {
  type FigureOf,
  overYears,
  percentile,
  STATISTICS,
  type Statistic,
} from '../study/years/over-years.ts';
export * from '../study/years/possible-years.ts';
export { hoursByYear } from '../study/years/years.ts';
export * from '../study/years/years-to-tell.ts';

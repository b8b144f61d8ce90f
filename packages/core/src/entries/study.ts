/** The works of studies: axes, designs, chunks for threads, choosing among designs, seeds and years. */

export type { ShareRange } from '../findings/years.ts';
export type { Asked, AskedKind, AskedRow } from '../study/compare/asked.ts';
export type { ComparedName, CompareNotice, CompareRow } from '../study/compare/compare.ts';
export type { Compared, Dearer } from '../study/compare/dearer.ts';
export * from '../study/designs/at-age.ts';
export * from '../study/designs/axes.ts';
export * from '../study/designs/chunk.ts';
export type { Design } from '../study/designs/designer.ts';
export { NOT_HARDER } from '../study/designs/harder.ts';
export * from '../study/designs/headline.ts';
export * from '../study/designs/notices.ts';
export * from '../study/designs/play.ts';
export * from '../study/designs/sample.ts';
export { openStudy, readSource, type Study } from '../study/designs/study.ts';
export { refuseYearAxes } from '../study/designs/year-axes.ts';
export * from '../study/growth.ts';
export type { Change, ChangeCaution, ChangedValue, ChangeReason } from '../study/improve/changes/change.ts';
export type { Unplayed } from '../study/improve/improve.ts';
export type { Outcome } from '../study/improve/outcome.ts';
export type { TriedChange } from '../study/improve/tried.ts';
export type { OnPlayed } from '../study/on-played.ts';
export * from '../study/size/dark-season.ts';
export * from '../study/size/front.ts';
export * from '../study/size/requirement.ts';
export * from '../study/size/size.ts';
export { WEEK_ROUNDS } from '../study/week/week.ts';
export * from '../study/week/week-years.ts';
export { withEveryYear } from '../study/years/every-year.ts';
export * from '../study/years/how-sure.ts';

export { figureOfRow, MANY_YEARS_FIGURES, PERCENTILES } from '../study/years/many-years.ts';
export * from '../study/years/over-years.ts';
export * from '../study/years/possible-years.ts';
export { hoursByYear, winterOf } from '../study/years/years.ts';
export * from '../study/years/years-to-tell.ts';

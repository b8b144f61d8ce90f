/**
 * Longnight plays a stand-alone solar power plant through every hour of a year and reads findings off a ledger that
 * must balance. Names stand in the order in which the data flows; models and the works of studies are subpaths:
 * `@longnight/core/scenario`, `/clock`, `/sun`, `/sky`, `/place`, `/array`, `/bank`, `/machines`, `/ledger`, `/wiring`,
 * `/money`, `/findings`, `/study`.
 *
 * Conventions. Azimuth is clockwise from north, angles are in degrees. Instants are UTC epoch ms; a step covers
 * [start, start + step) and the sun stands at the middle of the step's sun-up part. Powers are means over a step, in
 * kW; energies are per step, in kWh; no energy column is ever negative. Soc and shares run from 0 to 1. Time series
 * are `Float64Array`s with one entry a step. Nothing here does I/O, reads a clock or draws an unseeded number.
 *
 * Three verbs: `prepareYear` -> `playYear` -> `findings`; and `newVariantMaker` to change what is played.
 *
 * Stable from release to release: the names of this file, names and units of the ledger's columns and of the report's
 * figures, and the codes of issues. Subpaths, and fields of what is passed between functions, may change with any minor
 * version; every change is in the changelog.
 */

// What is wrong, and what is worth knowing.

export { BalanceError, InputError, type Issue, issueText, type Place } from './basis/errors.ts';
export type { Assumption, Notice } from './basis/notices.ts';

// Reading.

export type { GivenSeries, ScenarioInput } from './scenario/given.ts';
export { type JsonSchema, scenarioJsonSchema } from './scenario/json-schema.ts';
export { type Part, readParts } from './scenario/parts/file.ts';
export { partsFilesNamed, type ReadScenario, readScenario, scenarioOf } from './scenario/read.ts';
export { filesNamed, type Scenario } from './scenario/schema/schema.ts';

// A year of hours, without sizes.

export type { ArrayYear } from './array/prepare.ts';
export type { Clock } from './clock/clock.ts';
export type { LoadYear } from './loads/types.ts';
export type { OtherSourceYear } from './others/prepare.ts';
export type { FileTexts } from './series/types.ts';
export type { SkyYear } from './sky/types.ts';
export type { SunYear } from './sun/year.ts';
export { newYearPreparer, type PreparedYear, prepareYear, type Timetables } from './year.ts';

// A plant.

export { agedPlant } from './plant/aged.ts';
export type { Bank } from './plant/bank.ts';
export type { EngineGenerator } from './plant/generator.ts';
export type { Inverter } from './plant/inverter.ts';
export {
  type AllInOne,
  type Charger,
  type OtherSource,
  type Plant,
  plantOf,
  type Shedding,
  type Shore,
  type Tracked,
} from './plant/plant.ts';

// Playing it.

export { newReusedColumns, playYear, type ReusedColumns } from './hours/play.ts';
export { type Audit, audit } from './ledger/audit.ts';
export {
  type ColumnName,
  type Columns,
  LEDGER_COLUMNS,
  type LedgerColumn,
} from './ledger/columns.ts';
export type { Ledger, PlayedSteps } from './ledger/ledger.ts';
export { overPeriods, type Period, periodStarts } from './ledger/periods.ts';
export type { Begun, PlantState } from './ledger/state.ts';

// What the ledger says.

export type { ArrayFindings } from './findings/array.ts';
export type { BankFindings } from './findings/bank.ts';
export type { Figure } from './findings/figures/figure.ts';
export { FIGURES, type FigureName } from './findings/figures/figures.ts';
export { findings } from './findings/findings.ts';
export type { GeneratorFindings } from './findings/generator.ts';
export type { GivesOutFirst } from './findings/gives-out.ts';
export type { DayFigures, Stretch } from './findings/leanest.ts';
export type { Money } from './findings/money.ts';
export type { MonthRow } from './findings/months.ts';
export type { OtherFindings } from './findings/other-sources.ts';
export type { FoundAssumption, FoundNotice, Report } from './findings/report.ts';
export type { SeasonWeek } from './findings/season-weeks.ts';
export { cautions } from './findings/static/cautions.ts';
export { type Danger, dangersOf } from './findings/static/dangers.ts';
export { type Limit, type StaticFigure, type StaticLimits, staticLimits } from './findings/static/limits.ts';
export type { Surge } from './findings/static/surge.ts';
export type { Autonomy, SurvivalPoint } from './findings/sunless/autonomy.ts';
export type { LoadFindings, UnmetFindings } from './findings/unmet.ts';
export type * from './findings/years.ts';
export type { Bill, BillLine } from './money/bill.ts';
export { billOfScenario } from './money/of-scenario.ts';
export { type Headline, type HeadlineName, headline } from './study/designs/headline.ts';

// Varying it, and studies.

export { type Comparison, comparePlants } from './study/compare/compare.ts';
export type { Contender } from './study/compare/contenders.ts';
export type { Axis } from './study/designs/axes.ts';
export type { Harder } from './study/designs/harder.ts';
export type { DesignFigureName, Figures } from './study/designs/play.ts';
export type { StudyText } from './study/designs/study.ts';
export { newVariantMaker, type Variant } from './study/designs/variant.ts';
export { type Improvement, improvePlant } from './study/improve/improve.ts';
export type { JudgeAsk } from './study/size/judge.ts';
export type { Requirement } from './study/size/requirement.ts';
export type { Candidate, SizeAnswer, SizeAsk } from './study/size/size.ts';
export { sizePlant, type Varied, type VaryOptions, varyPlant } from './study/size/vary.ts';
export { type Sway, type SwayAsk, swayPlant } from './study/sway/sway.ts';
export { askWeek, type WeekAnswer, type WeekAsk } from './study/week/week.ts';
export { type EnsembleAsk, playEnsemble } from './study/years/ensemble.ts';
export { playEveryYear } from './study/years/every-year.ts';
export { playYears, type YearsAsk } from './study/years/years.ts';

/**
 * Longnight plays a stand-alone solar power plant through every hour of a year and reads findings off a ledger that
 * must balance. Exports stand in the order in which the data flows.
 *
 * Conventions. Azimuth is clockwise from north, angles are in degrees. Instants are UTC epoch ms; a step covers
 * [start, start + step) and the sun stands at the middle of the step's sun-up part. Powers are means over a step, in
 * kW; energies are per step, in kWh; no energy column is ever negative. Soc and shares run from 0 to 1. Time series
 * are `Float64Array`s with one entry a step. Nothing here does I/O, reads a clock or draws an unseeded number.
 *
 * Three verbs: `prepareYear` -> `playYear` -> `findings`.
 */

export type { ArrayYear } from './array/prepare.ts';
export * from './basis/errors.ts';
export type { Assumption, Notice } from './basis/notices.ts';
export { buildClock, type Clock, isTimeZone, localDate, localTime, utcTime } from './clock/clock.ts';
export type { Figure, Lack } from './findings/figures/figure.ts';
export { countsAs, FIGURES, type FigureName, figureNamed } from './findings/figures/figures.ts';
export { figuresOfReport } from './findings/figures/of-report.ts';
export { isUnmet } from './findings/figures/unmet.ts';
export { findings } from './findings/findings.ts';
export type { GivesOutFirst } from './findings/gives-out.ts';
export type { MonthRow } from './findings/months.ts';
export type { FoundNotice, Report } from './findings/report.ts';
export { dayOf, type SpellDay, type Stretch } from './findings/spell.ts';
export { cautions } from './findings/static/cautions.ts';
export { type Danger, dangersOf } from './findings/static/dangers.ts';
export {
  type Limit,
  type LimitReason,
  type StaticFigure,
  type StaticLimits,
  staticLimits,
} from './findings/static/limits.ts';
export { type MeanPeak, meanPeak, type PeakConflict } from './findings/static/mean-peak.ts';
export { type StringCheck, type StringConflict, stringFindings } from './findings/static/strings.ts';
export type { SurgeConflict } from './findings/static/surge.ts';
export { darkHours, type SurvivalPoint } from './findings/sunless/autonomy.ts';
export {
  type WeatherReport,
  type WeatherSpan,
  type WeatherTest,
  weatherFindings,
} from './findings/weather.ts';
export type { EveryYearRow, SeedRow, Spread, YearsRow } from './findings/years.ts';
export { newReusedColumns, playYear, type ReusedColumns } from './hours/play.ts';
export { type Audit, audit } from './ledger/audit.ts';
export * from './ledger/columns.ts';
export type { Ledger } from './ledger/ledger.ts';
export { overPeriods, PERIODS, type Period, periodStarts } from './ledger/periods.ts';
export type { Begun, PlantState } from './ledger/state.ts';
export type { LoadYear } from './loads/types.ts';
export { type Bill, type BillLine, billOf, type Life } from './money/bill.ts';
export {
  annuity,
  type LifetimeCost,
  lifetimeCost,
  lifeYears,
  replacementsByYear,
  replacementsShare,
  type Terms,
  type YearlyUse,
} from './money/lifetime.ts';
export { billOfScenario, termsOf } from './money/of-scenario.ts';
export { agedPlant } from './plant/aged.ts';
export { type Bank, type BankModel, buildBank, type OlderModules, withModules } from './plant/bank.ts';
export { type KineticModel, type KineticStep, kineticStep } from './plant/bank-kinetic.ts';
export { type BankLife, buildBankLife, type CycleLifePoint } from './plant/bank-life.ts';
export { type OpenCircuit, openCircuit, openCircuit_V, type ResistiveModel } from './plant/bank-resistive.ts';
export { type ChargeTerms, chargeRoom_kWh, chargeTerms } from './plant/bank-taper.ts';
export { chargeAmps_share, coldYear, drawableFloor_kWh } from './plant/cold.ts';
export { buildFuelCurve, type FuelCurve, fuelAt_L_per_h, outputFor_kW } from './plant/fuel.ts';
export { buildGenerator, type EngineGenerator, type NightRule } from './plant/generator.ts';
export { buildInverter, type Inverter, inputFor, outputFrom } from './plant/inverter.ts';
export {
  openVoltage_V,
  type PanelString,
  type TrackerInput,
  type WorkingRange,
  workingCoefficient_per_K,
  workingRange,
  workingVoltage_V,
} from './plant/panel-string.ts';
export {
  type AllInOne,
  type Charger,
  type Plant,
  plantOf,
  type Shedding,
  type Shore,
  type Tracked,
} from './plant/plant.ts';
export { CEC_WEIGHTS, EUROPEAN_WEIGHTS, weightedEfficiency } from './plant/weighted-efficiency.ts';
export { type JsonSchema, partsJsonSchema, scenarioJsonSchema } from './scenario/json-schema.ts';
export { type Key, type KeyRule, partsKeys, scenarioKeys } from './scenario/keys.ts';
export { PART_KINDS, type Part, type PartKind, readParts } from './scenario/parts/file.ts';
export { partsFilesNamed, type ReadScenario, readScenario, scenarioOf } from './scenario/read.ts';
export { fitKinetic, type KineticFit } from './scenario/rules/kinetic-fit.ts';
export * from './scenario/schema/schema.ts';
export type { FileTexts, Gridded, Series } from './series/types.ts';
export type { ClockShift } from './sky/clock-shift.ts';
export { QUALITY_TESTS, type QualityId } from './sky/quality.ts';
export type { SkyYear } from './sky/types.ts';
export {
  type ComparedName,
  type CompareNotice,
  type CompareRow,
  type Comparison,
  comparePlants,
} from './study/compare/compare.ts';
export type { Contender } from './study/compare/contenders.ts';
export type { Compared, Dearer } from './study/compare/dearer.ts';
export { type Axis, combinations, digitsOf, readAxis } from './study/designs/axes.ts';
export {
  type Chunk,
  figuresOf,
  newChunkPlayer,
  type PlayedChunk,
  type StudyTask,
} from './study/designs/chunk.ts';
export type { Design } from './study/designs/designer.ts';
export { type Harder, NOT_HARDER } from './study/designs/harder.ts';
export { HEADLINE, type Headline, type HeadlineName, headline } from './study/designs/headline.ts';
export { studyNotices } from './study/designs/notices.ts';
export { DESIGN_FIGURES, type DesignFigureName, type Figures, newPlayer } from './study/designs/play.ts';
export { MOST_SAMPLED_AXES, radicalInverse, sampleDesigns } from './study/designs/sample.ts';
export { openStudy, type Study, type StudyText } from './study/designs/study.ts';
export type { Change, ChangeCaution, ChangedValue, ChangeReason } from './study/improve/changes/change.ts';
export { type Mending, mendPlant, type Unplayed } from './study/improve/mend.ts';
export type { Outcome } from './study/improve/outcome.ts';
export type { TriedChange } from './study/improve/tried.ts';
export { front } from './study/size/front.ts';
export { type Hold, holds, nearestFigure, readHold } from './study/size/hold.ts';
export {
  type Candidate,
  type Chooser,
  chooseDesign,
  type Neighbour,
  neighboursOf,
  newChooser,
  refuseCircumstances,
  type SizeAnswer,
  type SizeAsk,
  type Tried,
  triedDesign,
} from './study/size/size.ts';
export { sizePlant, type Varied, type VaryOptions, varyPlant } from './study/size/vary.ts';
export { askSpell, SPELL_ROUNDS, type SpellAnswer, type SpellAsk } from './study/week/spell.ts';
export { askEveryYear, type SpellYears } from './study/week/spell-years.ts';
export { type EnsembleAsk, ensembleSeeds, playEnsemble } from './study/years/ensemble.ts';
export { playEveryYear, withEveryYear } from './study/years/every-year.ts';
export { hoursByYear, playYears, winterOf, type YearsAsk } from './study/years/years.ts';
export type { SunYear } from './sun/year.ts';
export {
  cycleLifeUsed_share,
  cyclesAtDepth,
  type DepthBand,
  type LifeUsed,
  lifeUsed,
  socHistory,
} from './wear/life.ts';
export { type Cycles, rainflow } from './wear/rainflow.ts';
export { type BankConductor, bankConductor, type ConductorConflict } from './wiring/bank-conductor.ts';
export { coldVoltageFactor, MAXIMUM_CURRENT_FACTOR, SHORT_CIRCUIT_FACTOR } from './wiring/cold-voltage.ts';
export { AWG_SIZES, METRIC_SIZES, STANDARD_RATINGS_A } from './wiring/copper.ts';
export {
  newYearPreparer,
  type PreparedYear,
  prepareYear,
  type Timetables,
} from './year.ts';

import type { Assumption, Notice } from '../basis/notices.ts';
import type { ArrayFindings } from './array.ts';
import type { BankFindings } from './bank.ts';
import type { BeginningAssumption, BeginningNotice } from './begun.ts';
import type { GeneratorFindings, GeneratorStepNotice } from './generator.ts';
import type { GivesOutFirst } from './gives-out.ts';
import type { ReportHead } from './head.ts';
import type { Stretch } from './leanest.ts';
import type { GrowthNotice, Money, MoneyAssumption } from './money.ts';
import type { MonthRow } from './months.ts';
import type { OtherFindings } from './other-sources.ts';
import type { SeasonWeek } from './season-weeks.ts';
import type { Danger } from './static/dangers.ts';
import type { StaticLimits } from './static/limits.ts';
import type { MeanPeak, RowPeakNotice } from './static/mean-peak.ts';
import type { PlausibilityNotice } from './static/plausible.ts';
import type { StringCheck } from './static/strings.ts';
import type { Surge } from './static/surge.ts';
import type { Autonomy } from './sunless/autonomy.ts';
import type { LoadFindings, UnmetFindings } from './unmet.ts';
import type { ManyYears, Years } from './years.ts';

/**
 * Everything the report says, as plain data: this very object is `report.json`. A figure that has no meaning for the
 * plant (no generator, no load) is null, never zero and never left out. What was found is an id with its values, units
 * in their names; sentences are the reader's.
 */
export interface Report extends ReportHead {
  /** The answer. */ readonly verdict: {
    /** True if every wanted kWh was served in the year as played; where a weather file holds many, in each of them. */
    readonly holds: boolean;
  };
  /** What can destroy a part or start a fire; none found is no proof that there is none. */
  readonly dangers: readonly Danger[];
  /** What is wanted and served. */ readonly load: LoadFindings;
  /** What is not served. */ readonly unmet: UnmetFindings;
  /** Twelve, January first, local calendar. */
  readonly by_month: readonly MonthRow[];
  /** How long a full bank carries the loads. */ readonly autonomy: Autonomy;
  /** The days with least sun for the load. */ readonly leanest_days: Stretch;
  /** An ordinary week of each quarter of the year: the one in the middle of its weeks by sun over load. */
  readonly season_weeks: readonly SeasonWeek[];
  /** What gave out, or came closest to it. */ readonly gives_out_first: GivesOutFirst;
  /** Null if the plant has no generator. */
  readonly generator: GeneratorFindings | null;
  /** Null if the plant has no socket. */
  readonly shore: Drawn | null;
  /** Null if no engine charges the bank. */
  readonly alternator: Drawn | null;
  /** Null if the plant has no other source. */
  readonly other_sources: OtherFindings | null;
  /** What the arrays offered and gave. */ readonly array: ArrayFindings;
  /** What the bank went through. */ readonly bank: BankFindings;
  /** Where energy was lost. */ readonly losses: Losses;
  /** What the plant can do before an hour is played. */
  readonly limits: StaticLimits;
  /** Means over steps, and rows of load files, against what the inverter gives. */
  readonly peak: MeanPeak;
  /** What the appliances can ask for at once; not played. */ readonly surge: Surge;
  /** Panels in series against each tracker; no entry for an array without data of its panels. */
  readonly strings: readonly StringCheck[];
  /** Null if the scenario has no `money` section. */
  readonly money: Money | null;
  /** Null where one year was played. */
  readonly years: Years | null;
  /** Null where the weather file does not hold several years. */
  readonly every_year: ManyYears | null;
  /** Null where one year was drawn. */
  readonly ensemble: ManyYears | null;
  /** The check of the energy balance. */ readonly audit: {
    /** Largest imbalance of a bus or of the bank's stock in any step. */
    readonly largest_imbalance_kWh: number;
    /** Steps in which the books were checked. */ readonly steps_checked: number;
  };
  /** What to mind before anything is wired. */ readonly cautions: readonly string[];
  /** What happened while reading, and what was found to need a word. */ readonly notices: readonly (
    | Notice
    | FoundNotice
  )[];
  /** Every default that was used, and what the models leave out. */ readonly assumptions: readonly (
    | Assumption
    | FoundAssumption
  )[];
}

/** What was found to need a word beside the answer; what happened in reading is a `Notice`, which has its message. */
export type FoundNotice =
  | BeginningNotice
  | RowPeakNotice
  | PlausibilityNotice
  | GeneratorStepNotice
  | GrowthNotice;

/** An assumption whose reason is an id with values. */
export type FoundAssumption = BeginningAssumption | MoneyAssumption;

/** What a source gave, and the hours in which it gave any. */
interface Drawn {
  readonly energy_kWh: number;
  readonly hours: number;
}

interface Losses {
  readonly total_kWh: number;
  readonly tracker_kWh: number;
  readonly bank_kWh: number;
  readonly heater_kWh: number;
  readonly inverter_kWh: number;
  readonly charger_kWh: number;
  readonly generator_spilled_kWh: number;
}

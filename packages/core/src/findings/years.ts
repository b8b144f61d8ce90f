/** What studies of many years put into a report. */

/** Between what shares of all such years a plant holds, as far as those played can tell. */
export interface ShareRange {
  /** 0 to 1. */ readonly low: number;
  /** 0 to 1. */ readonly high: number;
}

/** With the state that the year ends with, or with `run.initial_soc`; of years in a row the first. */
export type Begins = 'closed' | 'initial_soc';

/** What `run --years` found, year after year. */
export interface Years {
  /** In time order. */ readonly by_year: readonly YearsRow[];
  /** The first step with unmet load; null if there is none in all these years. */
  readonly first_failure: null | {
    /** Year of the first unmet load. */ readonly year: number;
    /** The same by the calendar. */ readonly calendar_year: number;
    /** Local time in that calendar year, `2029-12-19T07:00`. */
    readonly time: string;
    /** Winter half-year, `2029/30` north of the equator, `2029` south; null if it was summer. */
    readonly winter: string | null;
  };
  /** Years from the start until the life of the first bank is used up; null if it outlasts them or none is stated. */
  readonly bank_end_of_life_years: number | null;
  /** Closed if a year begins with the state it ends with, or initial_soc; of years in a row the first. */ readonly begins: Begins;
  /** True if loads grow from year to year; the calendar is that of the first in all of them. */
  readonly loads_grow: boolean;
  /** What is left of the bank's capacity when its life is used up; null where the scenario states no life: then all. */
  readonly end_of_life_share: number | null;
}

/** Every whole year of a weather file of several. */
export interface EveryYear {
  /** Years in which every wanted kWh was served. */
  readonly years_held: number;
  /** What that says of all such years. */ readonly held_share: ShareRange;
  /** In time order. */ readonly by_year: readonly EveryYearRow[];
  /** The year with most unmet energy, then most generator hours, then the lowest state of charge. */
  readonly worst: EveryYearRow;
  /** Years of the file that were not played, and why. */
  readonly left_out: readonly { readonly year: number; readonly why: string }[];
  /** Closed if a year begins with the state it ends with, or initial_soc; of years in a row the first. */ readonly begins: Begins;
  /** Files of loads that hold none of these years: their rows are used again there, date for date. */
  readonly repeated: readonly { readonly file: string; readonly years: readonly number[] }[];
}

/** What `run --seeds` found, one possible year after another. */
export interface Ensemble {
  /** How many years were drawn. */
  readonly years: number;
  /** Seed of the first: the scenario's own. */ readonly first_seed: number;
  /** Seed of the last. */ readonly last_seed: number;
  /** Years in which every wanted kWh was served. */
  readonly years_held: number;
  /** What that says of all such years. */ readonly held_share: ShareRange;
  /** Over the years drawn. */ readonly unmet_kWh: Spread;
  /** Null without a generator. */
  readonly generator_run_hours: Spread | null;
  /** Over the years drawn. */ readonly lowest_soc: Spread;
  /** The year with most unmet energy; of equals, with most generator hours, then with the lowest state of charge. */
  readonly worst: SeedRow;
  /** In the order of the seeds. */ readonly by_seed: readonly SeedRow[];
  /** Each of them: they are possible years, not years in a row. */
  readonly begins: Begins;
}

/** One year of several. */
export interface YearsRow {
  /** 1 is the first. */
  readonly year: number;
  /** Calendar year. */ readonly calendar_year: number;
  /** Seed of its weather; null where none is drawn. */
  readonly seed: number | null;
  /** Energy the loads ask for in it. */ readonly wanted_kWh: number;
  /** Energy the loads get in it. */ readonly served_kWh: number;
  /** Load left unmet in it. */ readonly unmet_kWh: number;
  /** Hours with any unmet load in it. */ readonly unmet_hours: number;
  /** State of charge it begins with: that which the year before leaves. */ readonly initial_soc: number;
  /** Lowest state of charge in it. */ readonly lowest_soc: number;
  /** Null without a generator. */
  readonly generator_run_hours: number | null;
  /** Null without a generator. */
  readonly fuel_L: number | null;
  /** Null without shore power. */
  readonly shore_kWh: number | null;
  /** Energy discharged over the capacity of that year. */
  readonly equivalent_full_cycles: number;
  /** Of the bank's capacity as new, at the start of the year. */
  readonly capacity_share: number;
  /** The bank's resistance over that as new, at the start of the year; null for one without. */
  readonly resistance_factor: number | null;
  /** Of the arrays' output as new; null without an array. */
  readonly array_share: number | null;
  /** Of the bank's cycle life, in this year; null where none is stated. */
  readonly cycle_life_used_share: number | null;
  /** Of the life of the bank in place at the end of the year; null where none is stated. */
  readonly life_used_share: number | null;
  /** Parts that were worn and bought anew in the year. */ readonly replaced: readonly Replaced[];
}

/** A part that was bought anew in a year. */
export interface Replaced {
  /** Section of the scenario, `bank` or `arrays[0].tracker`. */ readonly path: string;
  /** How often in the year. */ readonly times: number;
}

/** One year of a weather file of several. */
export interface EveryYearRow {
  /** A whole year of the weather file. */ readonly year: number;
  /** Global horizontal irradiation. */
  readonly ghi_kWh_m2: number;
  /** Energy the loads ask for in it. */ readonly wanted_kWh: number;
  /** Load left unmet in it. */ readonly unmet_kWh: number;
  /** Hours with any unmet load in it. */ readonly unmet_hours: number;
  /** Lowest state of charge in it. */ readonly lowest_soc: number;
  /** Null without a generator. */
  readonly generator_run_hours: number | null;
}

/** Quantiles over drawn years: a tenth of them have less than `p10`, half less than `p50`, a tenth more than `p90`. */
export interface Spread {
  /** A tenth have less. */ readonly p10: number;
  /** Half have less. */ readonly p50: number;
  /** A tenth have more. */ readonly p90: number;
}

/** One drawn year of several. */
export interface SeedRow {
  /** Seed of a drawn year. */ readonly seed: number;
  /** Load left unmet in it. */ readonly unmet_kWh: number;
  /** Hours with any unmet load in it. */ readonly unmet_hours: number;
  /** Lowest state of charge in it. */ readonly lowest_soc: number;
  /** Null without a generator. */
  readonly generator_run_hours: number | null;
}

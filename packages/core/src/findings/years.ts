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

/** What a plant does in many years, drawn or of a weather file. */
export interface ManyYears {
  /** Years in which every wanted kWh was served. */
  readonly years_held: number;
  /** What that says of all such years. */ readonly held_share: ShareRange;
  /** In time order; drawn ones in that of their seeds. */ readonly by_year: readonly ManyYearsRow[];
  /** The year with most unmet energy; of equals, with most generator hours, then with the lowest state of charge. */
  readonly worst: ManyYearsRow;
  /** What figures come to over these years. */ readonly over_years: readonly OverYears[];
  /** Years of the file that were not played, and why. */
  readonly left_out: readonly { readonly year: number; readonly why: string }[];
  /** Closed if a year begins with the state it ends with, or initial_soc; of years in a row the first. */ readonly begins: Begins;
  /** Files of loads that hold none of these years: their rows are used again there, date for date. */
  readonly repeated: readonly { readonly file: string; readonly years: readonly number[] }[];
}

/** One figure over many years. */
export interface OverYears {
  /** A figure of this report. */ readonly figure: string;
  /** What so many percent of the years stay at or below, in the unit of the figure; ascending. */
  readonly percentiles: readonly { readonly percent: number; readonly value: number }[];
  /** Mean of the years, in the unit of the figure. */ readonly mean: number;
  /** That of the year which is worst by this figure, in its unit. */ readonly worst: number;
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

/** One year of many. */
export interface ManyYearsRow {
  /** Seed of a drawn year; null for a year of a weather file. */ readonly seed: number | null;
  /** Its calendar year. */ readonly year: number;
  /** Global horizontal irradiation. */
  readonly ghi_kWh_m2: number;
  /** Energy the loads ask for in it. */ readonly wanted_kWh: number;
  /** Load left unmet in it. */ readonly unmet_kWh: number;
  /** Hours with any unmet load in it. */ readonly unmet_hours: number;
  /** LOLP: share of its hours with load wanted in which some is unmet; null if nothing is wanted. */
  readonly loss_of_load_probability: number | null;
  /** Its longest outage. */ readonly longest_outage_hours: number;
  /** Lowest state of charge in it. */ readonly lowest_soc: number;
  /** Null without a generator. */
  readonly generator_run_hours: number | null;
}

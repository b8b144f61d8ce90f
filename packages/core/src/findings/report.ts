import type { Assumption, Notice } from '../basis/notices.ts';
import type { CurtailedCause, UnmetCause } from '../ledger/columns.ts';
import type { BillLine } from '../money/bill.ts';
import type { DepthBand } from '../wear/life.ts';
import type { Danger } from './static/dangers.ts';
import type { StaticLimits } from './static/limits.ts';
import type { MeanPeak } from './static/mean-peak.ts';
import type { StringCheck } from './static/strings.ts';

/**
 * Everything the report says, as plain data: this very object is `report.json`. A figure that has no meaning for the
 * plant (no generator, no load) is null, never zero and never left out.
 */
export interface Report {
  readonly longnight: { readonly format: 1 };
  readonly site: {
    readonly name: string;
    readonly latitude_deg: number;
    readonly longitude_deg: number;
    readonly time_zone: string;
  };
  readonly run: {
    readonly year: number;
    readonly steps: number;
    readonly step_min: number;
    readonly weather: 'clear-sky' | 'series' | 'normals' | 'tmy3' | 'epw';
    /** Seed of the drawn weather; null where nothing is drawn. */
    readonly seed: number | null;
  };
  readonly verdict: {
    /** True if every wanted kWh was served in the year as played; where a weather file holds many, in each of them. */
    readonly holds: boolean;
    readonly sentence: string;
  };
  /** What can destroy a part or start a fire; none found is no proof that there is none. */
  readonly dangers: readonly Danger[];
  readonly load: {
    readonly wanted_kWh: number;
    readonly served_kWh: number;
    readonly mean_kWh_day: number;
    /** Highest mean power over one step. */
    readonly peak_kW: number;
    readonly wanted_by_month_kWh: readonly number[];
    readonly by_tier: readonly {
      readonly tier: number;
      readonly wanted_kWh: number;
      readonly unmet_kWh: number;
    }[];
    /** Loads that may wait, in none of the tiers; null if there are none. */
    readonly waiting: null | { readonly wanted_kWh: number; readonly unmet_kWh: number };
    /** Into loads that take what would be left unused; neither wanted nor served. Null if there are none. */
    readonly surplus_kWh: number | null;
  };
  readonly unmet: {
    readonly energy_kWh: number;
    /** Unmet energy over wanted energy, the loss of power supply probability (LPSP); null if nothing is wanted. */
    readonly share: number | null;
    /** Hours with any unmet load. */
    readonly hours: number;
    /** LOLP: hours with unmet load over hours with load wanted; null if nothing is wanted. */
    readonly loss_of_load_probability: number | null;
    readonly longest_hours: number;
    readonly spells: readonly {
      readonly start: string;
      readonly hours: number;
      readonly energy_kWh: number;
    }[];
    readonly by_cause_kWh: Readonly<Record<UnmetCause, number>>;
    /** Twelve, January first, local calendar. */
    readonly by_month_kWh: readonly number[];
  };
  /** Twelve, January first, local calendar. */
  readonly by_month: readonly MonthRow[];
  readonly autonomy: {
    /** Usable bank over mean daily load (IEEE 1013 3.3); inverter and bank losses are not in it. Null without load. */
    readonly nominal_days: number | null;
    /** Hours a full bank carries the loads with no sun and no generator, losses in it, over every start in the year. */
    readonly dark_hours: {
      readonly least: number;
      readonly p05: number;
      readonly median: number;
      /** Start of the step with the least. */
      readonly least_start: string;
      /** True if a start outlasts the year, so that the figures are lower bounds. */
      readonly capped: boolean;
      /** The same for all starts at once: how many last how long. */
      readonly survival: readonly SurvivalPoint[];
    };
  };
  readonly darkest_spell: Stretch;
  /** An ordinary week of each quarter of the year: the one in the middle of its weeks by sun over load. */
  readonly season_weeks: readonly (Stretch & { readonly months: readonly number[] })[];
  readonly gives_out_first: {
    /** The first limit to leave load unserved, in time; null if none did. */
    readonly first_cause: UnmetCause | null;
    readonly first_time: string | null;
    /** The limit behind most unmet energy; null if none. */
    readonly main_cause: UnmetCause | null;
    /** How close the plant came to each limit, 1 is at it. Sorted, closest first. */
    readonly closest: readonly {
      readonly limit: 'bank_energy' | 'bank_current' | 'inverter_rating' | 'generator_rating';
      readonly used_share: number;
      readonly time: string;
    }[];
    readonly sentence: string;
  };
  /** Null if the plant has no generator. */
  readonly generator: null | {
    readonly run_hours: number;
    readonly starts: number;
    readonly fuel_L: number;
    readonly energy_kWh: number;
    readonly spilled_kWh: number;
    /** Mean output while running over rating; null if it never ran. */
    readonly mean_load_share: number | null;
    /** Services that fall due if one was done just before the year; null where no interval is stated. */
    readonly services_due: number | null;
    /** Local date on which the first of them falls due. */
    readonly first_service: string | null;
    readonly run_hours_by_month: readonly number[];
  };
  /** Null if the plant has no socket. */
  readonly shore: null | { readonly energy_kWh: number; readonly hours: number };
  /** Null if no engine charges the bank. */
  readonly engine_charging: null | { readonly energy_kWh: number; readonly hours: number };
  readonly array: {
    readonly size_kWp: number;
    readonly available_kWh: number;
    readonly used_kWh: number;
    /** AC energy used of arrays on the AC side; null if there are none. */
    readonly on_ac_side_kWh: number | null;
    readonly curtailed_kWh: number;
    readonly curtailed_share: number | null;
    readonly curtailed_by_cause_kWh: Readonly<Record<CurtailedCause, number>>;
    readonly available_by_month_kWh: readonly number[];
    readonly curtailed_by_month_kWh: readonly number[];
    /** Irradiation on the planes, weighted by size, kWh/m². */
    readonly plane_kWh_m2: number;
    /** DC energy offered over size: the array yield if nothing were curtailed; null without an array, as the next three. */
    readonly available_yield_kWh_per_kWp: number | null;
    /** DC energy used over size: array yield, IEC 61836. */
    readonly array_yield_kWh_per_kWp: number | null;
    /** The array's portion of what the loads got, over size: final system yield, IEC 61836. */
    readonly final_yield_kWh_per_kWp: number | null;
    /** Final yield over reference yield, which is `plane_kWh_m2` over 1 kW/m² (IEC 61724): curtailment and losses lower it. */
    readonly performance_ratio: number | null;
  };
  readonly bank: {
    readonly capacity_kWh: number;
    /** Between full and floor, before discharge losses. */
    readonly usable_kWh: number;
    /** Energy discharged, at the terminals. */
    readonly throughput_kWh: number;
    readonly charged_kWh: number;
    readonly loss_kWh: number;
    /** Throughput over capacity. */
    readonly equivalent_full_cycles: number;
    /** State of charge with which the year begins. */
    readonly initial_soc: number;
    /** What it holds at the end of the year less what it held at the beginning: 0 if the year closes. */
    readonly gained_kWh: number;
    readonly lowest_soc: number;
    readonly lowest_soc_time: string;
    readonly hours_at_floor: number;
    readonly hours_too_cold_to_charge: number;
    /** Null where the scenario states no life of the bank. */
    readonly wear: null | {
      /** Rainflow cycles of the year in ten bands of depth (ASTM E1049-85). */
      readonly cycles_by_depth: readonly DepthBand[];
      /** Share of the stated cycle life that they take; null without `bank.cycle_life`. */
      readonly cycle_life_used_share: number | null;
      /** Share of the stated years; null without `bank.life_years`. */
      readonly calendar_life_used_share: number | null;
      /** If every year is like this one; null if nothing wore the bank. */
      readonly years_to_end_of_life: number | null;
      /** Which of the two ends it. */
      readonly worst: 'cycles' | 'calendar' | null;
    };
  };
  readonly losses: {
    readonly total_kWh: number;
    readonly tracker_kWh: number;
    readonly bank_kWh: number;
    readonly heater_kWh: number;
    readonly inverter_kWh: number;
    readonly charger_kWh: number;
    readonly generator_spilled_kWh: number;
  };
  /** What the plant can do before an hour is played. */
  readonly limits: StaticLimits;
  /** Means over steps, and rows of load files, against what the inverter gives. */
  readonly peak: MeanPeak;
  /** What the appliances can ask for at once; not played. */
  readonly surge: {
    /** Every appliance whose window touches the step on at once, other loads at their mean: the largest. */
    readonly running_kW: number;
    readonly running_time: string;
    /** With the start that adds most; the same as running where no appliance has `start_W`. */
    readonly peak_kW: number;
    readonly peak_time: string;
    readonly start: null | { readonly name: string; readonly start_W: number };
    /** Empty if no conflict was found, which is no proof that there is none. */
    readonly conflicts: readonly string[];
  };
  /** Panels in series against each tracker; no entry for an array without data of its panels. */
  readonly strings: readonly StringCheck[];
  /** Null if the scenario has no `money` section. Sums are null where a price is missing: see `unpriced`. */
  readonly money: null | {
    /** The scenario's own word; nothing is converted. */
    readonly currency: string;
    readonly years: number;
    readonly discount_share_per_year: number;
    /** How many of the years were played and are priced by their own use; those after them are used as the last. */
    readonly years_priced: number;
    readonly bill: readonly BillLine[];
    /** What has no price: items of the bill, and fuel or shore power if any was used. */
    readonly unpriced: readonly string[];
    /** The whole bill. */
    readonly capital: number | null;
    /** Present values over the years. */
    readonly replacements: number | null;
    readonly fuel: number | null;
    readonly shore: number | null;
    readonly service: number | null;
    readonly total: number | null;
    /** Total over the present value of the energy served: the levelised cost. */
    readonly per_served_kWh: number | null;
    /** Capital over the bank between full and floor. */
    readonly per_usable_kWh: number | null;
    /** Capital over continuous AC output, the inverter's losses in it. */
    readonly per_output_kW: number | null;
    /** Which use the years are priced by. */
    readonly rests_on: readonly string[];
  };
  /** What `run --years` found, year after year; null where one year was played. */
  readonly years: null | {
    readonly by_year: readonly YearsRow[];
    /** The first step with unserved load; null if there is none in all these years. */
    readonly first_failure: null | {
      readonly year: number;
      readonly calendar_year: number;
      /** Local time in that calendar year, `2029-12-19T07:00`. */
      readonly time: string;
      /** Winter half-year, `2029/30` north of the equator, `2029` south; null if it was summer. */
      readonly winter: string | null;
    };
    /** Years from the start until the bank's life is used up; null if it outlasts them or none is stated. */
    readonly bank_end_of_life_years: number | null;
    readonly rests_on: readonly string[];
  };
  /** Every whole year of a weather file of several; null where there is one. */
  readonly every_year: null | {
    /** Years in which every wanted kWh was served. */
    readonly years_held: number;
    readonly by_year: readonly EveryYearRow[];
    /** The year with most unmet energy, then most generator hours, then the lowest charge. */
    readonly worst: EveryYearRow;
    /** Years of the file that were not played, and why. */
    readonly left_out: readonly { readonly year: number; readonly why: string }[];
    readonly rests_on: readonly string[];
  };
  /** What `run --seeds` found, one possible year after another; null where one year was drawn. */
  readonly ensemble: null | {
    /** How many years were drawn. */
    readonly years: number;
    readonly first_seed: number;
    readonly last_seed: number;
    /** Years in which every wanted kWh was served. */
    readonly years_held: number;
    readonly unmet_kWh: Spread;
    /** Null without a generator. */
    readonly generator_run_hours: Spread | null;
    readonly lowest_soc: Spread;
    /** The year with most unserved energy; of equals, with most generator hours, then with the lowest charge. */
    readonly worst: SeedRow;
    readonly by_seed: readonly SeedRow[];
    readonly rests_on: readonly string[];
  };
  readonly audit: {
    /** Largest imbalance of a bus or of the bank's stock in any step. */
    readonly largest_imbalance_kWh: number;
    readonly steps_checked: number;
  };
  readonly cautions: readonly string[];
  readonly notices: readonly Notice[];
  readonly assumptions: readonly Assumption[];
}

/** One year of several. */
export interface YearsRow {
  /** 1 is the first. */
  readonly year: number;
  readonly calendar_year: number;
  /** Seed of its weather; null where none is drawn. */
  readonly seed: number | null;
  readonly wanted_kWh: number;
  readonly served_kWh: number;
  readonly unmet_kWh: number;
  readonly unmet_hours: number;
  readonly start_soc: number;
  readonly lowest_soc: number;
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
  /** Of the arrays' output as new; null without an array. */
  readonly array_share: number | null;
  /** Of the bank's cycle life against depth, in this year; null where none is stated. */
  readonly cycle_life_used_share: number | null;
  /** Of the bank's life, at the end of the year; null where none is stated. */
  readonly life_used_share: number | null;
}

/** One year of a weather file of several. */
export interface EveryYearRow {
  readonly year: number;
  /** Global horizontal irradiation. */
  readonly ghi_kWh_m2: number;
  readonly wanted_kWh: number;
  readonly unmet_kWh: number;
  readonly unmet_hours: number;
  readonly lowest_soc: number;
  /** Null without a generator. */
  readonly generator_run_hours: number | null;
}

/** Quantiles over drawn years: a tenth of them have less than `p10`, half less than `p50`, a tenth more than `p90`. */
export interface Spread {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

/** One drawn year of several. */
export interface SeedRow {
  readonly seed: number;
  readonly unmet_kWh: number;
  readonly unmet_hours: number;
  readonly lowest_soc: number;
  /** Null without a generator. */
  readonly generator_run_hours: number | null;
}

/** A run of whole local days. */
export interface Stretch {
  /** Local date of the first day. */
  readonly start: string;
  readonly days: number;
  /** Array energy offered over load wanted; null if nothing is wanted. */
  readonly sun_to_load: number | null;
  readonly start_soc: number;
  readonly lowest_soc: number;
  readonly unmet_kWh: number;
  readonly by_day: readonly SpellDay[];
}

/** A month of the ledger. Sun used, generator, shore and engine are served, surplus, losses and what the bank gained. */
export interface MonthRow {
  /** 1 to 12. */
  readonly month: number;
  readonly wanted_kWh: number;
  readonly served_kWh: number;
  readonly unmet_kWh: number;
  readonly sun_used_kWh: number;
  readonly curtailed_kWh: number;
  readonly generator_kWh: number;
  readonly shore_kWh: number;
  readonly engine_charging_kWh: number;
  /** Into loads that take surplus; neither wanted nor served. */
  readonly surplus_load_kWh: number;
  readonly losses_kWh: number;
  /** Stock at the end of the month less that at its start; may be negative. */
  readonly bank_gained_kWh: number;
}

/** Share of all starts from which a full bank lasts so many hours or longer in the dark. */
export interface SurvivalPoint {
  readonly hours: number;
  readonly starts_share: number;
}

/** A local day of the darkest spell. */
export interface SpellDay {
  readonly date: string;
  readonly wanted_kWh: number;
  readonly available_kWh: number;
  readonly unmet_kWh: number;
  readonly generator_kWh: number;
  readonly lowest_soc: number;
  readonly end_soc: number;
}

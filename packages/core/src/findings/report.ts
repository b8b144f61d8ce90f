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
  /** The form of this object. */ readonly longnight: {
    /** Form of report.json; changes when a name in it does. */ readonly format: 1;
  };
  /** Where the plant stands. */ readonly site: {
    /** As in the scenario. */ readonly name: string;
    /** North is positive. */ readonly latitude_deg: number;
    /** East is positive. */ readonly longitude_deg: number;
    /** IANA name; days and months are those of its wall clock. */ readonly time_zone: string;
  };
  /** What was played. */ readonly run: {
    /** Local calendar year that was played. */ readonly year: number;
    /** Steps of the year. */ readonly steps: number;
    /** Length of a step. */ readonly step_min: number;
    /** Where the weather comes from: clear-sky, series, normals, tmy3 or epw. */ readonly weather:
      | 'clear-sky'
      | 'series'
      | 'normals'
      | 'tmy3'
      | 'epw';
    /** Seed of the drawn weather; null where nothing is drawn. */
    readonly seed: number | null;
  };
  /** Whether the plant holds. */ readonly verdict: {
    /** True if every wanted kWh was served in the year as played; where a weather file holds many, in each of them. */
    readonly holds: boolean;
    /** The same in words. */ readonly sentence: string;
  };
  /** What can destroy a part or start a fire; none found is no proof that there is none. */
  readonly dangers: readonly Danger[];
  /** What the loads ask for and get. */ readonly load: {
    /** Energy the loads ask for in the year. */ readonly wanted_kWh: number;
    /** Energy the loads get. */ readonly served_kWh: number;
    /** Wanted on a mean day. */ readonly mean_kWh_day: number;
    /** Highest mean power over one step; a moment within it may ask for more. */ readonly peak_kW: number;
    /** Wanted in each month of the local calendar, January first. */ readonly wanted_by_month_kWh: readonly number[];
    /** By what is served first. */ readonly by_tier: readonly {
      /** Tier of the loads; lower ones are served first. */ readonly tier: number;
      /** What the loads of this tier ask for. */ readonly wanted_kWh: number;
      /** What the loads of this tier do not get. */ readonly unmet_kWh: number;
    }[];
    /** Loads that may wait, in none of the tiers; null if there are none. */
    readonly waiting: null | {
      /** What loads ask for that may wait, in none of the tiers. */ readonly wanted_kWh: number;
      /** What these loads do not get. */ readonly unmet_kWh: number;
    };
    /** Into loads that take what would be left unused; neither wanted nor served. Null if there are none. */
    readonly surplus_kWh: number | null;
  };
  /** What the loads do not get, when and why. */ readonly unmet: {
    /** Load left unserved in the year. */ readonly energy_kWh: number;
    /** Unmet energy over wanted energy, the loss of power supply probability (LPSP); null if nothing is wanted. */
    readonly share: number | null;
    /** Hours with any unserved load. */ readonly hours: number;
    /** LOLP: hours with unmet load over hours with load wanted; null if nothing is wanted. */
    readonly loss_of_load_probability: number | null;
    /** Longest spell with unserved load. */ readonly longest_hours: number;
    /** Runs of steps with unmet load, in time order. */ readonly spells: readonly {
      /** When the spell begins, local time. */ readonly start: string;
      /** Its length: steps one after the other with unserved load. */ readonly hours: number;
      /** What goes unserved in it. */ readonly energy_kWh: number;
    }[];
    /** By the limit that bound. */ readonly by_cause_kWh: Readonly<Record<UnmetCause, number>>;
    /** Unserved in each month of the local calendar, January first. */ readonly by_month_kWh: readonly number[];
  };
  /** Twelve, January first, local calendar. */
  readonly by_month: readonly MonthRow[];
  /** How long the bank carries the loads on its own. */ readonly autonomy: {
    /** Usable bank over mean daily load (IEEE 1013 3.3); inverter and bank losses are not in it. Null without load. */
    readonly nominal_days: number | null;
    /** Hours a full bank carries the loads with no sun and no generator, losses in it, over every start in the year. */
    readonly dark_hours: {
      /** Shortest time a full bank carries the loads with no sun and no generator, losses in it, over every start in the year. */ readonly least: number;
      /** The same, undercut by one start in twenty. */ readonly p05: number;
      /** The same, in the middle of all starts. */ readonly median: number;
      /** The start with the least, local time. */ readonly least_start: string;
      /** True if a start outlasts the year, so that the hours are lower bounds. */ readonly capped: boolean;
      /** The same for all starts at once: how many last how long. */
      readonly survival: readonly SurvivalPoint[];
    };
  };
  /** The days with the least sun for the load. */ readonly darkest_spell: Stretch;
  /** An ordinary week of each quarter of the year: the one in the middle of its weeks by sun over load. */
  readonly season_weeks: readonly (Stretch & { readonly months: readonly number[] })[];
  /** Which limit leaves load unmet, or came closest to it. */ readonly gives_out_first: {
    /** The first limit to leave load unserved, in time; null if none did. */
    readonly first_cause: UnmetCause | null;
    /** When it did, local time. */ readonly first_time: string | null;
    /** The limit behind most unmet energy; null if none. */
    readonly main_cause: UnmetCause | null;
    /** How close the plant came to each limit, 1 is at it. Sorted, closest first. */
    readonly closest: readonly {
      /** A limit of the plant, the one that came closest first. */ readonly limit:
        | 'bank_energy'
        | 'bank_current'
        | 'inverter_rating'
        | 'generator_rating';
      /** How far the limit was used at most, 1 is at it; means over a step. */ readonly used_share: number;
      /** When that was, local time. */ readonly time: string;
    }[];
    /** The same in words. */ readonly sentence: string;
  };
  /** Null if the plant has no generator. */
  readonly generator: null | {
    /** Hours the generator runs. */ readonly run_hours: number;
    /** Times the generator starts. */ readonly starts: number;
    /** Fuel burnt. */ readonly fuel_L: number;
    /** AC energy it makes. */ readonly energy_kWh: number;
    /** Made only to keep the engine at its least load, and wasted. */ readonly spilled_kWh: number;
    /** Mean output while running over rating; null if it never ran. */
    readonly mean_load_share: number | null;
    /** Services that fall due if one was done just before the year; null where no interval is stated. */
    readonly services_due: number | null;
    /** Local date on which the first of them falls due. */ readonly first_service: string | null;
    /** Hours it runs in each month of the local calendar, January first. */ readonly run_hours_by_month: readonly number[];
  };
  /** Null if the plant has no socket. */
  readonly shore: null | {
    /** AC energy from the socket. */ readonly energy_kWh: number;
    /** Hours in which it gives any. */ readonly hours: number;
  };
  /** Null if no engine charges the bank. */
  readonly engine_charging: null | {
    /** DC energy from the charger of a running engine. */ readonly energy_kWh: number;
    /** Hours in which it gives any. */ readonly hours: number;
  };
  /** What the arrays offered and gave. */ readonly array: {
    /** Size of all arrays. */ readonly size_kWp: number;
    /** DC energy the arrays offer to their trackers. */ readonly available_kWh: number;
    /** DC energy taken from the arrays. */ readonly used_kWh: number;
    /** AC energy used of arrays on the AC side; null if there are none. */
    readonly on_ac_side_kWh: number | null;
    /** Offered and not used. */ readonly curtailed_kWh: number;
    /** Share of the energy offered that is not used. */ readonly curtailed_share: number | null;
    /** By the limit that bound. */ readonly curtailed_by_cause_kWh: Readonly<Record<CurtailedCause, number>>;
    /** Offered in each month of the local calendar, January first. */ readonly available_by_month_kWh: readonly number[];
    /** Not used in each month of the local calendar, January first. */ readonly curtailed_by_month_kWh: readonly number[];
    /** Irradiation on the planes of the arrays, weighted by their sizes. */ readonly plane_kWh_m2: number;
    /** DC energy offered over size: the array yield if nothing were curtailed; null without an array, as the next three. */
    readonly available_yield_kWh_per_kWp: number | null;
    /** DC energy used over size: array yield, IEC 61836. */
    readonly array_yield_kWh_per_kWp: number | null;
    /** The array's portion of what the loads got, over size: final system yield, IEC 61836. */
    readonly final_yield_kWh_per_kWp: number | null;
    /** Final yield over reference yield, which is `plane_kWh_m2` over 1 kW/m² (IEC 61724): curtailment and losses lower it. */
    readonly performance_ratio: number | null;
  };
  /** What the bank went through. */ readonly bank: {
    /** Energy of the bank between empty and full, at its nominal voltage. */ readonly capacity_kWh: number;
    /** Between full and floor, before discharge losses. */ readonly usable_kWh: number;
    /** Energy discharged, at the terminals. */ readonly throughput_kWh: number;
    /** Energy charged, at the terminals. */ readonly charged_kWh: number;
    /** Lost in the bank: charging, discharging, self-discharge. */ readonly loss_kWh: number;
    /** Full cycles that the energy discharged would make. */ readonly equivalent_full_cycles: number;
    /** State of charge with which the year begins. */ readonly initial_soc: number;
    /** Held at the end of the year less held at its beginning: 0 if the year closes. */ readonly gained_kWh: number;
    /** Lowest state of charge of the year. */ readonly lowest_soc: number;
    /** Start of the step at whose end it is reached first, local time. */ readonly lowest_soc_time: string;
    /** Hours that end with the bank at its floor. */ readonly hours_at_floor: number;
    /** Hours in which the bank is below its least charging temperature. */ readonly hours_too_cold_to_charge: number;
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
  /** Where energy was lost on the way to the loads. */ readonly losses: {
    /** All losses. */ readonly total_kWh: number;
    /** Lost in the trackers. */ readonly tracker_kWh: number;
    /** Lost in the bank: charging, discharging, self-discharge. */ readonly bank_kWh: number;
    /** Energy into the heaters of the bank. */ readonly heater_kWh: number;
    /** Lost in the inverter, standing loss included. */ readonly inverter_kWh: number;
    /** Lost in the charger. */ readonly charger_kWh: number;
    /** Generated only to keep the engine at its least load. */ readonly generator_spilled_kWh: number;
  };
  /** What the plant can do before an hour is played. */
  readonly limits: StaticLimits;
  /** Means over steps, and rows of load files, against what the inverter gives. */
  readonly peak: MeanPeak;
  /** What the appliances can ask for at once; not played. */
  readonly surge: {
    /** Every appliance whose window touches a step on at once, other loads at their mean. */ readonly running_kW: number;
    /** When that is largest, local time. */ readonly running_time: string;
    /** The same and the start that adds most. */ readonly peak_kW: number;
    /** When that is largest, local time. */ readonly peak_time: string;
    /** Null where no appliance says what it takes at its start. */ readonly start: null | {
      /** The appliance whose start adds most. */ readonly name: string;
      /** What it takes at its start. */ readonly start_W: number;
    };
    /** What does not fit together; none found is no proof that there is none. */ readonly conflicts: readonly string[];
  };
  /** Panels in series against each tracker; no entry for an array without data of its panels. */
  readonly strings: readonly StringCheck[];
  /** Null if the scenario has no `money` section. Sums are null where a price is missing: see `unpriced`. */
  readonly money: null | {
    /** The scenario's own word; nothing is converted. */ readonly currency: string;
    /** Over which costs are added up. */ readonly years: number;
    /** What a cost is worth less for each year that it is put off. */ readonly discount_share_per_year: number;
    /** How many of the years are priced by their own use; those after them as the last. */ readonly years_priced: number;
    /** The bill of materials. */ readonly bill: readonly BillLine[];
    /** What has no price: then there is no total. */ readonly unpriced: readonly string[];
    /** What the plant costs to buy. */ readonly capital: number | null;
    /** Present value of parts bought again when they are worn. */ readonly replacements: number | null;
    /** Present value of the fuel. */ readonly fuel: number | null;
    /** Present value of power from the socket. */ readonly shore: number | null;
    /** Present value of the generator's services. */ readonly service: number | null;
    /** Present value of all that the plant costs over the years. */ readonly total: number | null;
    /** Levelised cost of the energy served. */ readonly per_served_kWh: number | null;
    /** Price of the plant over its usable bank. */ readonly per_usable_kWh: number | null;
    /** Price of the plant over its continuous AC output. */ readonly per_output_kW: number | null;
    /** By which use the years are priced. */ readonly rests_on: readonly string[];
  };
  /** What `run --years` found, year after year; null where one year was played. */
  readonly years: null | {
    /** In time order. */ readonly by_year: readonly YearsRow[];
    /** The first step with unserved load; null if there is none in all these years. */
    readonly first_failure: null | {
      /** Year of the first unserved load. */ readonly year: number;
      /** The same by the calendar. */ readonly calendar_year: number;
      /** When it is, local time. */ readonly time: string;
      /** Winter half-year, `2029/30` north of the equator, `2029` south; null if it was summer. */
      readonly winter: string | null;
    };
    /** Years from the start until the bank's life is used up; null if it outlasts them or none is stated. */
    readonly bank_end_of_life_years: number | null;
    /** What these years rest on. */ readonly rests_on: readonly string[];
  };
  /** Every whole year of a weather file of several; null where there is one. */
  readonly every_year: null | {
    /** Whole years of the weather file in which every wanted kWh was served. */ readonly years_held: number;
    /** In time order. */ readonly by_year: readonly EveryYearRow[];
    /** The year with most unmet energy, then most generator hours, then the lowest charge. */
    readonly worst: EveryYearRow;
    /** Years of the file that were not played, and why. */
    readonly left_out: readonly {
      /** A year of the weather file that was not played. */ readonly year: number;
      /** Why not. */ readonly why: string;
    }[];
    /** What these years rest on. */ readonly rests_on: readonly string[];
  };
  /** What `run --seeds` found, one possible year after another; null where one year was drawn. */
  readonly ensemble: null | {
    /** Years drawn from the same monthly means, as asked for with --seeds. */ readonly years: number;
    /** Seed of the first: the scenario's own. */ readonly first_seed: number;
    /** Seed of the last. */ readonly last_seed: number;
    /** Years in which every wanted kWh was served. */ readonly years_held: number;
    /** Over the years drawn. */ readonly unmet_kWh: Spread;
    /** Null without a generator. */
    readonly generator_run_hours: Spread | null;
    /** Over the years drawn. */ readonly lowest_soc: Spread;
    /** The year with most unserved energy; of equals, with most generator hours, then with the lowest charge. */
    readonly worst: SeedRow;
    /** In the order of the seeds. */ readonly by_seed: readonly SeedRow[];
    /** What the drawn years rest on. */ readonly rests_on: readonly string[];
  };
  /** The check of the energy balance. */ readonly audit: {
    /** Largest miss of the books in any step: both buses, the stock of the bank, each total against its causes, what is wanted against the loads, fuel and hours of the generator against its curve. */ readonly largest_imbalance_kWh: number;
    /** Steps in which the books were checked. */ readonly steps_checked: number;
  };
  /** What to mind before anything is wired. */ readonly cautions: readonly string[];
  /** What happened while reading and playing. */ readonly notices: readonly Notice[];
  /** Every default that was used, and what the models leave out. */ readonly assumptions: readonly Assumption[];
}

/** One year of several. */
export interface YearsRow {
  /** Year of several, 1 is the first. */ readonly year: number;
  /** Calendar year. */ readonly calendar_year: number;
  /** Seed of its weather; null where none is drawn. */
  readonly seed: number | null;
  /** Energy the loads ask for in it. */ readonly wanted_kWh: number;
  /** Energy the loads get in it. */ readonly served_kWh: number;
  /** Load left unserved in it. */ readonly unmet_kWh: number;
  /** Hours with any unserved load in it. */ readonly unmet_hours: number;
  /** State of charge it begins with: that which the year before leaves. */ readonly start_soc: number;
  /** Lowest state of charge in it. */ readonly lowest_soc: number;
  /** Null without a generator. */
  readonly generator_run_hours: number | null;
  /** Null without a generator. */
  readonly fuel_L: number | null;
  /** Null without shore power. */
  readonly shore_kWh: number | null;
  /** Energy discharged over the capacity of that year. */ readonly equivalent_full_cycles: number;
  /** Of the bank's capacity as new, at the start of the year. */ readonly capacity_share: number;
  /** Of the arrays' output as new; null without an array. */
  readonly array_share: number | null;
  /** Of the bank's cycle life against depth, in this year; null where none is stated. */
  readonly cycle_life_used_share: number | null;
  /** Of the bank's life, at the end of the year; null where none is stated. */
  readonly life_used_share: number | null;
}

/** One year of a weather file of several. */
export interface EveryYearRow {
  /** A whole year of the weather file. */ readonly year: number;
  /** Global irradiation on the horizontal in it. */ readonly ghi_kWh_m2: number;
  /** Energy the loads ask for in it. */ readonly wanted_kWh: number;
  /** Load left unserved in it. */ readonly unmet_kWh: number;
  /** Hours with any unserved load in it. */ readonly unmet_hours: number;
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
  /** Load left unserved in it. */ readonly unmet_kWh: number;
  /** Hours with any unserved load in it. */ readonly unmet_hours: number;
  /** Lowest state of charge in it. */ readonly lowest_soc: number;
  /** Null without a generator. */
  readonly generator_run_hours: number | null;
}

/** A run of whole local days. */
export interface Stretch {
  /** First day of an ordinary week of them: the one in the middle of their weeks by sun over load. */ readonly start: string;
  /** Its length. */ readonly days: number;
  /** Array energy offered over load wanted; null if nothing is wanted. */
  readonly sun_to_load: number | null;
  /** State of charge that the played year comes to these days with. */ readonly start_soc: number;
  /** Lowest state of charge in them. */ readonly lowest_soc: number;
  /** Load left unserved in them. */ readonly unmet_kWh: number;
  /** In time order. */ readonly by_day: readonly SpellDay[];
}

/** A month of the ledger. Sun used, generator, shore and engine are served, surplus, losses and what the bank gained. */
export interface MonthRow {
  /** Month of the local calendar, 1 to 12. */ readonly month: number;
  /** Energy the loads ask for in it. */ readonly wanted_kWh: number;
  /** Energy they get. */ readonly served_kWh: number;
  /** Wanted less served. */ readonly unmet_kWh: number;
  /** Energy taken from the arrays. */ readonly sun_used_kWh: number;
  /** Array energy offered and not used. */ readonly curtailed_kWh: number;
  /** Energy the generator makes. */ readonly generator_kWh: number;
  /** Energy from the socket. */ readonly shore_kWh: number;
  /** Energy from a running engine. */ readonly engine_charging_kWh: number;
  /** Into loads that take surplus. */ readonly surplus_load_kWh: number;
  /** All losses. */ readonly losses_kWh: number;
  /** Stock of the bank at its end less that at its start; may be negative. */ readonly bank_gained_kWh: number;
}

/** Share of all starts from which a full bank lasts so many hours or longer in the dark. */
export interface SurvivalPoint {
  /** Hours in the dark that a share of all starts is told for. */ readonly hours: number;
  /** Share of all starts from which a full bank lasts so long or longer. */ readonly starts_share: number;
}

/** A local day of the darkest spell. */
export interface SpellDay {
  /** A local day of the run. */ readonly date: string;
  /** Energy the loads ask for on it. */ readonly wanted_kWh: number;
  /** Energy the arrays offer on it. */ readonly available_kWh: number;
  /** Load left unserved on it. */ readonly unmet_kWh: number;
  /** Energy the generator makes on it. */ readonly generator_kWh: number;
  /** Lowest state of charge on it. */ readonly lowest_soc: number;
  /** State of charge at its end. */ readonly end_soc: number;
}

import type { ColumnName } from '../ledger/columns.ts';
import type { FlexibleYear, SurplusYear } from '../loads/types.ts';
import type { BankStep } from '../plant/bank-step.ts';
import type { Plant } from '../plant/plant.ts';
import type { Asked } from './asked.ts';
import type { Flows } from './flows.ts';
import type { NightYear } from './night.ts';

/** What one step hands to the next. The only mutable state of a played year. */
export interface Memory extends GeneratorMemory {
  stock_kWh: number;
  /** True while the socket carries loads when it is there. */
  shore_on: boolean;
  /** True from the inverter's cut-off until it comes back. */
  inverter_off: boolean;
  /** What else a bank that is not of fixed efficiency remembers. */
  bank: BankStep;
  /** Bit k is set while the tier in place k is shed. */
  shed: number;
  /** What each flexible load still asks for in its window. */
  readonly flexible_kWh: Float64Array;
  /** What each load that takes surplus may still get on the local day `surplus_day`. */
  readonly surplus_kWh: Float64Array;
  surplus_day: number;
  /** Bit k is set once a column of `RARE[k]` was written. */
  wrote: number;
  /** What flows in the current step; nothing of it is handed to the next. */
  readonly flows: Flows;
}

/** What a step is given from outside, as columns. */
export interface StepGivens extends Asked {
  /** False if only the columns of a row are read: a quiet step then writes no other. */
  readonly whole: boolean;
  /** What arrays and other sources offer, at their terminals. */
  readonly available_kWh: Float64Array;
  /** Array energy at the trackers' DC side, and what they could take at the arrays'. */
  readonly tracked_kWh: Float64Array;
  readonly trackable_kWh: Float64Array;
  /** Energy of arrays on the AC side, and the same at their terminals; null without. */
  readonly ac_sun_kWh: Float64Array | null;
  readonly ac_offered_kWh: Float64Array | null;
  readonly bank_temperature_C: Float64Array;
  /** Local day of each step. */
  readonly day: Uint16Array;
  readonly tier_kW: readonly Float64Array[];
  /** Loads on the DC side by tier; null without. */
  readonly dc_tier_kW: readonly Float64Array[] | null;
  readonly leg_tier_kW: readonly (readonly Float64Array[])[] | null;
  readonly flexible: readonly FlexibleYear[];
  readonly surplus: readonly SurplusYear[];
  /** What leaves the inverter if all is served that is asked of it. */
  readonly inverted_kWh: Float64Array;
  /** Stock that the cold keeps back, floor included; null if it keeps back nothing. */
  readonly drawable_floor_kWh: Float64Array | null;
  /** What the bank's heaters ask for; null without. */
  readonly heat_kWh: Float64Array | null;
  /** Share of the charge amps that the bank takes at its temperature; null if it always takes all. */
  readonly charge_amps_share: Float64Array | null;
  readonly generator_barred: Uint8Array | null;
  readonly start_draw: Float64Array | null;
  readonly shore_there: Uint8Array | null;
  readonly engine_share: Float64Array | null;
  /** Null where the generator does not look ahead to the night. */
  readonly night: NightYear | null;
}

/**
 * Columns that are zero in most steps, those that are written together side by side: a step expects zeros in them and
 * writes only what isn't. `Memory.wrote` tells which a year has touched, so that only those are cleared for the next.
 */
export const RARE = [
  [
    'unmet_kWh',
    'unmet_bank_floor_kWh',
    'unmet_bank_cold_kWh',
    'unmet_bank_current_kWh',
    'unmet_inverter_rating_kWh',
    'unmet_leg_kWh',
    'unmet_inverter_asleep_kWh',
    'unmet_inverter_cut_off_kWh',
    'unmet_generator_rating_kWh',
    'unmet_generator_barred_kWh',
    'unmet_fuel_kWh',
    'unmet_shore_rating_kWh',
    'unmet_shed_kWh',
  ],
  ['curtailed_bank_full_kWh', 'curtailed_charge_current_kWh', 'curtailed_bank_cold_kWh'],
  ['array_ac_kWh', 'curtailed_charger_kWh', 'curtailed_inverter_off_kWh'],
  ['heater_kWh'],
  ['alternator_kWh'],
  ['dc_load_served_kWh'],
  ['flexible_wanted_kWh'],
  ['surplus_load_kWh'],
  ['charger_in_kWh', 'charger_loss_kWh'],
  ['generator_kWh', 'generator_spilled_kWh', 'generator_run_h', 'fuel_L'],
  ['shore_kWh'],
  ['other_used_kWh', 'other_curtailed_kWh', 'other_ac_kWh'],
] as const satisfies readonly (readonly ColumnName[])[];

/** The bits of `Memory.wrote`, in the order of `RARE`. */
export const WROTE_UNMET = 1 << 0;
export const WROTE_CURTAILED = 1 << 1;
export const WROTE_AC_SUN = 1 << 2;
export const WROTE_HEATER = 1 << 3;
export const WROTE_ENGINE = 1 << 4;
export const WROTE_DC_LOAD = 1 << 5;
export const WROTE_WAITING = 1 << 6;
export const WROTE_SURPLUS = 1 << 7;
export const WROTE_CHARGER = 1 << 8;
export const WROTE_GENERATOR = 1 << 9;
export const WROTE_SHORE = 1 << 10;
export const WROTE_OTHER = 1 << 11;

/** Whether the generator runs in a step, as `decide` leaves it in `memory`. */
export interface GeneratorMemory {
  generator_on: boolean;
  /** Hours since the generator last started. */
  ran_h: number;
  /** Hours it has run on the local day `day`. */
  ran_today_h: number;
  day: number;
  /** Fuel on hand; only counted where there is a tank. */
  fuel_L: number;
}

/** Before the first step. Every number stands there from the start, so that the loop meets one shape of memory. */
export const generatorMemory = ({ generator }: Plant): GeneratorMemory => ({
  generator_on: false,
  ran_h: 0,
  ran_today_h: 0,
  day: -1,
  fuel_L: generator?.tank_L ?? 0,
});

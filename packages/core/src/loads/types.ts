import type { Assumption, Notice } from '../basis/notices.ts';
import type { Load } from '../scenario/schema/schema.ts';
import type { RowPeaks } from './rows.ts';

/** What is wanted, by tier, and what else draws power. */
export interface LoadYear {
  /** What each load wants, in the order of the scenario; empty where its columns were changed since (`mapLoads`). */
  readonly by_load: readonly LoadEnergy[];
  /** Tier numbers present, ascending: the first is served first. */ readonly tiers: readonly number[];
  /** Mean power wanted per tier, kW; same order as `tiers`, each with `clock.steps` entries. */
  readonly tier_kW: readonly Float64Array[];
  /** Sum over tiers, kW. */ readonly total_kW: Float64Array;
  /** Part of `tier_kW` that hangs on the DC side, before the inverter; null where none does. */
  readonly dc_tier_kW: readonly Float64Array[] | null;
  /** Part of `tier_kW` on the AC side that hangs on one leg alone, by leg; null where none does. */
  readonly leg_tier_kW: readonly (readonly Float64Array[])[] | null;
  /** What the loads on the AC side draw with all that may be on switched on; null unless the inverter can sleep. */
  readonly running_kW: Float64Array | null;
  /** What rows of load files reach above the means of their steps; null where none are shorter than a step. */
  readonly row_peaks: RowPeaks | null;
  /** Flexible loads. */ readonly flexible: readonly FlexibleYear[];
  /** Loads that take only what is left over. */ readonly surplus: readonly SurplusYear[];
  /** What happened while reading. */ readonly notices: readonly Notice[];
  /** What the loads leave out. */ readonly assumptions: readonly Assumption[];
}

/** What one load wants in the year. */
export interface LoadEnergy {
  readonly name: string;
  readonly kind: Load['kind'];
  /** Null for flexible and surplus loads, which have none. */
  readonly tier: number | null;
  /** By local calendar month, January first; a flexible load's window counts where it begins. Null for surplus, which is never wanted. */
  readonly by_month_kWh: readonly number[] | null;
}

/** A flexible load, step by step, kWh. */
export interface FlexibleYear {
  readonly name: string;
  /** Asked for from this step on, until its window ends; 0 elsewhere. */
  readonly asked_kWh: Float64Array;
  /** Most it can draw in the step; 0 outside its windows. */
  readonly most_kWh: Float64Array;
  /** Most it can draw in the later steps of the same window: what exceeds it can't wait any longer. */
  readonly later_kWh: Float64Array;
  /** Below this state of charge it goes without. */
  readonly min_soc: number;
}

/** A load that takes what would be left over. */
export interface SurplusYear {
  readonly name: string;
  /** Most it can draw in the step. */
  readonly most_kWh: Float64Array;
  /** Most that is of use in one local day. */
  readonly max_kWh_day: number;
}

/** The same loads, so many times as large. */
export function timesLoad(loads: LoadYear, factor: number): LoadYear {
  if (factor === 1) return loads;
  const times = mapLoads(loads, (column) => column.map((value) => value * factor));
  const by_load = loads.by_load.map((load) => ({
    ...load,
    by_month_kWh: load.by_month_kWh?.map((kWh) => kWh * factor) ?? null,
  }));
  const surplus = times.surplus.map((load) => ({ ...load, max_kWh_day: load.max_kWh_day * factor }));
  return { ...times, by_load, surplus };
}

/**
 * The same loads with every column changed alike.
 *
 * @param change from a column of the year to another; energies of loads that wait are given to it too
 */
export function mapLoads(loads: LoadYear, change: (column: Float64Array) => Float64Array): LoadYear {
  const each = (columns: readonly Float64Array[]): readonly Float64Array[] => columns.map(change);
  return {
    ...loads,
    by_load: [],
    tier_kW: each(loads.tier_kW),
    total_kW: change(loads.total_kW),
    dc_tier_kW: loads.dc_tier_kW && each(loads.dc_tier_kW),
    leg_tier_kW: loads.leg_tier_kW?.map(each) ?? null,
    running_kW: loads.running_kW && change(loads.running_kW),
    row_peaks: loads.row_peaks && {
      ...loads.row_peaks,
      ac_kW: change(loads.row_peaks.ac_kW),
      shared_kW: change(loads.row_peaks.shared_kW),
      leg_kW: each(loads.row_peaks.leg_kW),
    },
    flexible: loads.flexible.map((load) => ({
      ...load,
      asked_kWh: change(load.asked_kWh),
      most_kWh: change(load.most_kWh),
      later_kWh: change(load.later_kWh),
    })),
    surplus: loads.surplus.map((load) => ({ ...load, most_kWh: change(load.most_kWh) })),
  };
}

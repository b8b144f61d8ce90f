import { byMonth } from '../clock/months.ts';
import { CURTAILED_CAUSES, type CurtailedCause } from '../ledger/columns.ts';
import type { Ledger } from '../ledger/ledger.ts';
import { shareOf, total } from './totals.ts';

/** What the arrays offered and gave. */
export interface ArrayFindings {
  /** Size of all arrays. */ readonly size_kWp: number;
  /** DC energy the arrays offer to their trackers. */ readonly available_kWh: number;
  /** DC energy taken from the arrays. */ readonly used_kWh: number;
  /** AC energy used of arrays on the AC side; null if there are none. */
  readonly on_ac_side_kWh: number | null;
  /** Offered and not used. */ readonly curtailed_kWh: number;
  /** Share of the energy offered that is not used. */ readonly curtailed_share: number | null;
  /** By what held it back, other sources with it. */ readonly curtailed_by_cause_kWh: Readonly<
    Record<CurtailedCause, number>
  >;
  /** Offered in each month of the local calendar, January first. */ readonly available_by_month_kWh: readonly number[];
  /** Not used in each month of the local calendar, January first. */ readonly curtailed_by_month_kWh: readonly number[];
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
}

/**
 * What the arrays offered, what was taken and why the rest was not.
 *
 * Source: yields by IEC 61836 (array yield: energy of the array over its rated power; final system yield: the portion of
 * the net energy of the system that the array supplied, over the same; reference yield: in-plane irradiation over
 * 1 kW/m²) and performance ratio, final over reference yield. Which portion of the loads' energy is the array's is
 * IEC 61724:1998's (recalled): the array's share of all energy that went in. The bank's stock counts as an input where
 * it fell over the year and as use where it rose; the standard takes charge less discharge, bank losses in it.
 */
export function arrayFindings(ledger: Ledger): ArrayFindings {
  const { year, plant, columns, step_h } = ledger;
  const size_kWp = plant.arrays.reduce((sum, array) => sum + array.size_kWp, 0);
  const available = total(columns.array_available_kWh);
  const used = total(columns.array_used_kWh);
  const curtailed = total(columns.curtailed_kWh);
  const plane_kWh_m2 = plant.arrays.reduce((sum, array, a) => {
    const weight = size_kWp > 0 ? array.size_kWp / size_kWp : 1 / plant.arrays.length;
    return sum + (weight * total(year.arrays[a]!.plane_W_m2) * step_h) / 1000;
  }, 0);
  const reference_kWh = size_kWp * plane_kWh_m2;
  const final = usedFromArray_kWh(ledger, used);
  return {
    size_kWp,
    available_kWh: available,
    used_kWh: used,
    on_ac_side_kWh: plant.arrays.some((array) => array.ac === true) ? total(columns.array_ac_kWh) : null,
    curtailed_kWh: curtailed,
    curtailed_share: shareOf(curtailed, available),
    curtailed_by_cause_kWh: Object.fromEntries(
      CURTAILED_CAUSES.map((cause) => [cause, total(columns[`curtailed_${cause}_kWh`])]),
    ) as Record<CurtailedCause, number>,
    available_by_month_kWh: byMonth(columns.array_available_kWh, year.clock),
    curtailed_by_month_kWh: byMonth(columns.curtailed_kWh, year.clock),
    plane_kWh_m2,
    available_yield_kWh_per_kWp: shareOf(available, size_kWp),
    array_yield_kWh_per_kWp: shareOf(used, size_kWp),
    final_yield_kWh_per_kWp: shareOf(final, size_kWp),
    performance_ratio: shareOf(final, reference_kWh),
  };
}

/** The array's portion of what the loads got: of all energy that went into the plant, the share that was the array's. */
function usedFromArray_kWh({ columns, start_stock_kWh, steps }: Ledger, array_kWh: number): number {
  const gained_kWh = columns.bank_stock_kWh[steps - 1]! - start_stock_kWh;
  const use_kWh = total(columns.load_served_kWh) + total(columns.surplus_load_kWh) + Math.max(0, gained_kWh);
  const in_kWh =
    array_kWh +
    total(columns.other_used_kWh) +
    (total(columns.generator_kWh) - total(columns.generator_spilled_kWh)) +
    total(columns.shore_kWh) +
    total(columns.alternator_kWh) +
    Math.max(0, -gained_kWh);
  return in_kWh > 0 ? (use_kWh * array_kWh) / in_kWh : 0;
}

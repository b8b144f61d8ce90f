import { CURTAILED_CAUSES, type CurtailedCause } from '../ledger/columns.ts';
import type { Ledger } from '../ledger/ledger.ts';
import type { Plant } from '../plant/plant.ts';
import type { PreparedYear } from '../year.ts';
import type { Report } from './report.ts';
import { byMonth, shareOf, total } from './totals.ts';

/**
 * What the arrays offered, what was taken and why the rest was not.
 *
 * Source: IEC 61724-1 for yields and performance ratio: final yield = energy out over rated power, reference yield =
 * in-plane irradiation over 1 kW/m², performance ratio = final over reference yield. Energy out is taken at the
 * arrays' DC terminals. Curtailed energy lowers both, so both are also given for the energy offered.
 */
export function arrayFindings(year: PreparedYear, plant: Plant, ledger: Ledger): Report['array'] {
  const { columns, step_h } = ledger;
  const size_kWp = plant.arrays.reduce((sum, array) => sum + array.size_kWp, 0);
  const available = total(columns.array_available_kWh);
  const used = total(columns.array_used_kWh);
  const curtailed = total(columns.curtailed_kWh);
  const plane_kWh_m2 = plant.arrays.reduce((sum, array, a) => {
    const weight = size_kWp > 0 ? array.size_kWp / size_kWp : 1 / plant.arrays.length;
    return sum + (weight * total(year.arrays[a]!.plane_W_m2) * step_h) / 1000;
  }, 0);
  const reference_kWh = size_kWp * plane_kWh_m2;
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
    specific_yield_kWh_per_kWp: shareOf(used, size_kWp),
    available_yield_kWh_per_kWp: shareOf(available, size_kWp),
    performance_ratio: shareOf(used, reference_kWh),
    available_performance_ratio: shareOf(available, reference_kWh),
  };
}

import type { Ledger } from '../ledger/ledger.ts';
import type { Plant } from '../plant/plant.ts';
import type { PreparedYear } from '../year.ts';
import type { Report } from './report.ts';
import { byMonth, shareOf, total } from './totals.ts';

/** Run-hours, starts, fuel; null without a generator. */
export function generatorFindings(year: PreparedYear, plant: Plant, ledger: Ledger): Report['generator'] {
  const { generator } = plant;
  if (generator === null) return null;
  const { generator_run_h, generator_kWh, generator_spilled_kWh, fuel_L } = ledger.columns;
  let starts = 0;
  for (let i = 0; i < ledger.steps; i++) {
    if (generator_run_h[i]! > 0 && (i === 0 || generator_run_h[i - 1]! === 0)) starts++;
  }
  const run_hours = total(generator_run_h);
  const energy_kWh = total(generator_kWh);
  return {
    run_hours,
    starts,
    fuel_L: total(fuel_L),
    energy_kWh,
    spilled_kWh: total(generator_spilled_kWh),
    mean_load_share: shareOf(energy_kWh, run_hours * generator.rating_kW),
    run_hours_by_month: byMonth(generator_run_h, year.clock),
  };
}

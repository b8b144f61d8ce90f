import { isUnmet } from '../../findings/figures/unmet.ts';
import { shareOf, total } from '../../findings/totals.ts';
import type { ManyYearsRow } from '../../findings/years.ts';
import type { Ledger } from '../../ledger/ledger.ts';

/** Reads the figures of one of many years off its ledger. */
export function yearFigures({ columns, steps, step_h, plant, year }: Ledger): ManyYearsRow {
  const { clock, sky, scenario } = year;
  let lowest = 1;
  let darkSteps = 0;
  let wantedSteps = 0;
  let dark = 0;
  let longest = 0;
  for (let i = 0; i < steps; i++) {
    lowest = Math.min(lowest, columns.bank_soc[i]!);
    if (columns.load_wanted_kWh[i]! > 0) wantedSteps++;
    dark = isUnmet(columns.unmet_kWh[i]!) ? dark + 1 : 0;
    if (dark > 0) darkSteps++;
    longest = Math.max(longest, dark);
  }
  return {
    seed: scenario.weather.kind === 'monthly_means' ? scenario.weather.seed : null,
    year: clock.year,
    ghi_kWh_m2: (total(sky.ghi_W_m2) * clock.step_h) / 1000,
    wanted_kWh: total(columns.load_wanted_kWh),
    unmet_kWh: total(columns.unmet_kWh),
    unmet_hours: darkSteps * step_h,
    loss_of_load_probability: shareOf(darkSteps, wantedSteps),
    longest_outage_hours: longest * step_h,
    lowest_soc: lowest,
    generator_run_hours: plant.generator !== null ? total(columns.generator_run_h) : null,
  };
}

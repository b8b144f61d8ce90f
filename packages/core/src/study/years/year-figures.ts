import { isUnmet } from '../../findings/figures/unmet.ts';
import { total } from '../../findings/totals.ts';
import type { Ledger } from '../../ledger/ledger.ts';

/** What a played year comes to, where many are set side by side. */
interface YearFigures {
  readonly unmet_kWh: number;
  /** Hours of steps with any unmet load in them. */
  readonly unmet_hours: number;
  readonly lowest_soc: number;
  /** Null without a generator. */
  readonly generator_run_hours: number | null;
}

/** Reads the figures of a year off its ledger. */
export function yearFigures({ columns, steps, step_h, plant }: Ledger): YearFigures {
  let lowest = 1;
  let darkSteps = 0;
  for (let i = 0; i < steps; i++) {
    lowest = Math.min(lowest, columns.bank_soc[i]!);
    if (isUnmet(columns.unmet_kWh[i]!)) darkSteps++;
  }
  return {
    unmet_kWh: total(columns.unmet_kWh),
    unmet_hours: darkSteps * step_h,
    lowest_soc: lowest,
    generator_run_hours: plant.generator !== null ? total(columns.generator_run_h) : null,
  };
}

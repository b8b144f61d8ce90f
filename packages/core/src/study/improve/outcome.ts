import { isUnmet } from '../../findings/figures/unmet.ts';
import { type Danger, dangersOf } from '../../findings/static/dangers.ts';
import { loadFindings } from '../../findings/unmet.ts';
import { newReusedColumns, playYear, type ReusedColumns } from '../../hours/play.ts';
import { billOfScenario } from '../../money/of-scenario.ts';
import { plantOf } from '../../plant/plant.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import type { FileTexts } from '../../series/types.ts';
import { newYearPreparer } from '../../year.ts';

/** What a played year says about a change. */
export interface Outcome {
  readonly unmet_kWh: number;
  readonly unmet_hours: number;
  /** Unmet of all tiers but the one that matters least; null where there is one tier only. */
  readonly unmet_higher_tiers_kWh: number | null;
  /** Null without a generator. */
  readonly generator_run_h: number | null;
  readonly fuel_L: number | null;
  readonly lowest_soc: number;
  /** Price of everything on the bill; null where a price is missing. */
  readonly capital: number | null;
  /** Coldest that the bank gets, °C. */
  readonly coldest_bank_C: number;
  readonly dangers: readonly Danger[];
}

/**
 * Plays scenarios one after another on one set of columns; what they share is prepared once.
 *
 * @param texts text of every series file that the scenarios name
 */
export function newTrial(file: string, texts: FileTexts): (scenario: Scenario) => Outcome {
  const yearOf = newYearPreparer(file, texts);
  let reused: ReusedColumns | undefined;
  return (scenario) => {
    const year = yearOf(scenario);
    if (reused === undefined || reused.tracked_kWh.length !== year.clock.steps)
      reused = newReusedColumns(year.clock.steps);
    const plant = plantOf(scenario);
    const ledger = playYear(year, plant, reused);
    const { unmet_kWh, bank_soc, generator_run_h, fuel_L } = ledger.columns;
    let unmet = 0;
    let unmetSteps = 0;
    let run_h = 0;
    let fuel = 0;
    let lowest = 1;
    let coldest = Number.POSITIVE_INFINITY;
    for (let i = 0; i < ledger.steps; i++) {
      unmet += unmet_kWh[i]!;
      if (isUnmet(unmet_kWh[i]!)) unmetSteps++;
      run_h += generator_run_h[i]!;
      fuel += fuel_L[i]!;
      if (bank_soc[i]! < lowest) lowest = bank_soc[i]!;
      if (year.bank_temperature_C[i]! < coldest) coldest = year.bank_temperature_C[i]!;
    }
    const tiers = loadFindings(ledger).by_tier;
    const higher = tiers.slice(0, -1).reduce((sum, tier) => sum + tier.unmet_kWh, 0);
    const hasGenerator = scenario.generator !== undefined;
    return {
      unmet_kWh: unmet,
      unmet_hours: unmetSteps * ledger.step_h,
      unmet_higher_tiers_kWh: tiers.length > 1 ? higher : null,
      generator_run_h: hasGenerator ? run_h : null,
      fuel_L: hasGenerator ? fuel : null,
      lowest_soc: lowest,
      capital: billOfScenario(scenario).capital,
      coldest_bank_C: coldest,
      dangers: dangersOf(year, plant),
    };
  };
}

import { expectArgument } from '../../basis/arguments.ts';
import { balancedBooks } from '../../findings/findings.ts';
import type { ManyYears } from '../../findings/years.ts';
import { newReusedColumns, playYear } from '../../hours/play.ts';
import type { Plant } from '../../plant/plant.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import type { PreparedYear } from '../../year.ts';
import { manyYears, PERCENTILES } from './many-years.ts';
import { inYear, type PossibleYear } from './possible-years.ts';
import { yearFigures } from './year-figures.ts';

/** A plant to be played in several possible years. */
export interface EnsembleAsk {
  /** What is the same in all of them. */ readonly scenario: Scenario;
  /** As new, in every one of the years. */ readonly plant: Plant;
  /** As `possibleYears` gave them, at least one. */ readonly years: readonly PossibleYear[];
  /** Makes the hours of a scenario; a `newYearPreparer` prepares what the years share once. */
  readonly prepare: (scenario: Scenario) => PreparedYear;
  /** Percentiles of figures to tell, whole, 1 to 99; left out, 5, 50 and 95. */
  readonly percentiles?: readonly number[];
}

/**
 * Plays a plant through one possible year after another. Each begins with the plant as new and closes on itself, or
 * begins with `run.initial_soc`: these are possible years, not years in a row.
 *
 * @throws BalanceError if the books of a year don't balance
 */
export function playEnsemble(ask: EnsembleAsk): ManyYears {
  expectArgument('playEnsemble', 'ask', ask, 'object');
  const { scenario, plant, years, prepare, percentiles = PERCENTILES } = ask;
  expectArgument('playEnsemble', 'scenario', scenario, 'scenario');
  expectArgument('playEnsemble', 'plant', plant, 'plant');
  expectArgument('playEnsemble', 'years', years, 'list');
  expectArgument('playEnsemble', 'prepare', prepare, 'function');
  let reused = newReusedColumns(0);
  const rows = years.map((possible) => {
    const year = prepare(inYear(scenario, possible));
    if (reused.tracked_kWh.length !== year.clock.steps) reused = newReusedColumns(year.clock.steps);
    const ledger = playYear(year, plant, reused);
    balancedBooks(ledger);
    return yearFigures(ledger);
  });
  if (rows.length === 0) throw new RangeError('playEnsemble: no years');
  return manyYears(rows, plant, percentiles);
}

import { refusal } from '../../basis/errors.ts';
import { balancedBooks } from '../../findings/findings.ts';
import type { ManyYears } from '../../findings/years.ts';
import { newReusedColumns, playYear } from '../../hours/play.ts';
import type { Plant } from '../../plant/plant.ts';
import type { Scenario, Weather } from '../../scenario/schema/schema.ts';
import type { PreparedYear } from '../../year.ts';
import { manyYears, PERCENTILES } from './many-years.ts';
import { inYear, type PossibleYear } from './possible-years.ts';
import { yearFigures } from './year-figures.ts';

const refuse = refusal.bind(null, 'seeds', '--seeds');

const HIGHEST_SEED = 4_294_967_295;

/**
 * The seeds of an ensemble: the scenario's own and those after it; of a weather file, which has none, from 1.
 *
 * @param count how many years to draw, from 1
 * @throws InputError if there is nothing to draw, or the seeds end before
 */
export function ensembleSeeds(weather: Weather, count: number): readonly number[] {
  if (weather.kind === 'clear-sky')
    throw refuse(
      'a clear sky is the same every year',
      'leave --seeds out, or describe the weather by monthly means (weather.kind: monthly_means)',
    );
  const first = weather.kind === 'monthly_means' ? weather.seed : 1;
  if (first + count - 1 > HIGHEST_SEED)
    throw refuse(`seeds from ${first} on end at ${HIGHEST_SEED}`, 'take a smaller weather.seed');
  return Array.from({ length: count }, (_, k) => first + k);
}

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
  const { scenario, plant, years, prepare, percentiles = PERCENTILES } = ask;
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

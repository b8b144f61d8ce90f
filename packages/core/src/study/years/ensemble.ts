import { quantileSorted } from 'simple-statistics';
import { refusal } from '../../basis/errors.ts';
import { balancedBooks } from '../../findings/findings.ts';
import type { Ensemble, SeedRow, Spread } from '../../findings/years.ts';
import { newReusedColumns, playYear } from '../../hours/play.ts';
import type { Plant } from '../../plant/plant.ts';
import type { Scenario, Weather } from '../../scenario/schema/schema.ts';
import type { PreparedYear } from '../../year.ts';
import { howSure } from './how-sure.ts';
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

/** A plant to be played in several drawn years. */
export interface EnsembleAsk {
  /** Its weather is drawn from monthly means. */ readonly scenario: Scenario;
  /** As new, in every one of the years. */ readonly plant: Plant;
  /** As `ensembleSeeds` gave them. */ readonly seeds: readonly number[];
  /** Makes the hours of a scenario; a `newYearPreparer` prepares what the years share once. */
  readonly prepare: (scenario: Scenario) => PreparedYear;
}

/**
 * Plays a plant through one drawn year after another. Each begins with the plant as new and closes on itself, or begins
 * with `run.initial_soc`: these are possible years, not years in a row.
 *
 * @throws BalanceError if the books of a year don't balance
 *
 * Source: quantiles as Hyndman & Fan 1996, American Statistician 50, 361-365, definition 7 (recalled), by
 * simple-statistics.
 */
export function playEnsemble({ scenario, plant, seeds, prepare }: EnsembleAsk): Ensemble {
  const { weather } = scenario;
  if (weather.kind !== 'monthly_means') throw new RangeError('playEnsemble: the weather is not drawn');
  const rows: SeedRow[] = [];
  let reused = newReusedColumns(0);
  for (const seed of seeds) {
    const year = prepare({ ...scenario, weather: { ...weather, seed } });
    if (reused.tracked_kWh.length !== year.clock.steps) reused = newReusedColumns(year.clock.steps);
    const ledger = playYear(year, plant, reused);
    balancedBooks(ledger);
    rows.push({ seed, ...yearFigures(ledger) });
  }
  const [first] = seeds;
  const last = seeds.at(-1);
  if (first === undefined || last === undefined) throw new RangeError('playEnsemble: no seeds');
  const held = rows.reduce((count, row) => count + (row.unmet_hours === 0 ? 1 : 0), 0);
  return {
    years: rows.length,
    first_seed: first,
    last_seed: last,
    years_held: held,
    held_share: howSure(held, rows.length),
    unmet_kWh: spreadOf(rows.map((row) => row.unmet_kWh)),
    generator_run_hours:
      plant.generator === null ? null : spreadOf(rows.map((row) => row.generator_run_hours ?? 0)),
    lowest_soc: spreadOf(rows.map((row) => row.lowest_soc)),
    worst: rows.reduce((worst, row) => (isWorse(row, worst) ? row : worst)),
    by_seed: rows,
    begins: plant.initial_soc === null ? 'closed' : 'initial_soc',
  };
}

function spreadOf(values: readonly number[]): Spread {
  const sorted = values.toSorted((a, b) => a - b);
  const at = (share: number): number => quantileSorted(sorted, share);
  return { p10: at(0.1), p50: at(0.5), p90: at(0.9) };
}

/** More unmet energy; where that is alike, more generator hours, then a lower charge. The earlier seed wins a tie. */
function isWorse(row: SeedRow, than: SeedRow): boolean {
  if (row.unmet_kWh !== than.unmet_kWh) return row.unmet_kWh > than.unmet_kWh;
  const [runs, thanRuns] = [row.generator_run_hours ?? 0, than.generator_run_hours ?? 0];
  if (runs !== thanRuns) return runs > thanRuns;
  return row.lowest_soc < than.lowest_soc;
}

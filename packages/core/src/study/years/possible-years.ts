import { refusal } from '../../basis/errors.ts';
import type { ReadScenario } from '../../scenario/read.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import type { FileTexts } from '../../series/types.ts';
import { ensembleSeeds } from './ensemble.ts';
import { playableYears, yearsOfFile } from './file-years.ts';

/** A year that a plant may have to stand: one drawn from monthly means, or one of a weather file. Can be sent to threads. */
export type PossibleYear =
  | { readonly kind: 'drawn'; readonly seed: number }
  | {
      readonly kind: 'measured';
      readonly year: number;
      /** Files of loads that hold another year and are read as of this one. */
      readonly repeated: readonly string[];
    };

/** Years that plants are to be played in, each on its own: they are possible years, not years in a row. */
export interface PossibleYears {
  /** In the order of the seeds or of the calendar. */ readonly years: readonly PossibleYear[];
  /** Years of the file that can't be played, and why. */
  readonly left_out: readonly { readonly year: number; readonly why: string }[];
}

/** Which years are asked for. */
export interface YearsWanted {
  /** So many drawn years: the scenario's seed and those after it. */ readonly seeds?: number | undefined;
  /** Every whole year of the weather file. */ readonly every_year?: boolean | undefined;
}

/**
 * The years that are asked for.
 *
 * @param file name of the scenario's file, for messages
 * @returns no years where none are asked for
 * @throws InputError if the weather can't give them: drawn years of a measured series, measured ones of monthly means,
 *   or a file that holds fewer than two whole years
 */
export function possibleYears(
  read: ReadScenario,
  file: string,
  texts: FileTexts,
  { seeds, every_year }: YearsWanted,
): PossibleYears {
  const drawn = seeds === undefined ? [] : ensembleSeeds(read.scenario.weather, seeds);
  const years: PossibleYear[] = drawn.map((seed) => ({ kind: 'drawn', seed }));
  if (!every_year) return { years, left_out: [] };
  const left_out: { year: number; why: string }[] = [];
  for (const one of playableYears(read, file, texts, yearsOfFile(read.scenario, file, texts) ?? [])) {
    if (one.prepared === null) left_out.push({ year: one.year, why: one.why });
    else years.push({ kind: 'measured', year: one.year, repeated: one.repeated });
  }
  if (years.length < 2)
    throw refusal(
      'every-year',
      '--every-year',
      'the weather is no file of two whole years or more',
      'leave --every-year out, or name a file of several years; --seeds draws years from monthly means',
    );
  return { years, left_out };
}

/** The scenario as it is played in one of its possible years; as it stands without one. */
export function inYear(scenario: Scenario, year: PossibleYear | undefined): Scenario {
  if (year === undefined) return scenario;
  const { weather, run, loads } = scenario;
  if (year.kind === 'drawn')
    return weather.kind === 'monthly_means'
      ? { ...scenario, weather: { ...weather, seed: year.seed } }
      : scenario;
  return {
    ...scenario,
    run: { ...run, year: year.year },
    loads: loads.map((load) =>
      load.kind === 'series' && year.repeated.includes(load.file)
        ? { ...load, time: { ...load.time, year: year.year } }
        : load,
    ),
  };
}

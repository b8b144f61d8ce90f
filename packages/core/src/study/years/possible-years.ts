import { expectArgument, expectArguments } from '../../basis/arguments.ts';
import { refusal } from '../../basis/errors.ts';
import type { Assumption } from '../../basis/notices.ts';
import { expectWhole } from '../../basis/within.ts';
import type { ReadScenario } from '../../scenario/read.ts';
import type { MonthlyMeansWeather, Scenario, Weather } from '../../scenario/schema/schema.ts';
import type { FileTexts } from '../../series/types.ts';
import type { PreparedYear } from '../../year.ts';
import type { OnPlayed } from '../on-played.ts';
import { meansOfYears } from './file-means.ts';
import { playableYears, yearsOfFile } from './file-years.ts';

/** A year that a plant may have to stand: one drawn from monthly means, or one of a weather file. Can be sent to threads. */
export type PossibleYear =
  | {
      readonly kind: 'drawn';
      readonly seed: number;
      /** Means of the weather file, the same object in all of its drawn years; left out where the scenario states means. */
      readonly means?: MonthlyMeansWeather;
    }
  | {
      readonly kind: 'measured';
      readonly year: number;
      /** Files of loads that hold another year and are read as of this one. */
      readonly repeated: readonly string[];
    };

/** Years that plants are to be played in, each on its own: they are possible years, not years in a row. */
export interface PossibleYears {
  /** Those of the calendar in its order, then drawn ones in that of their seeds. */
  readonly years: readonly PossibleYear[];
  /** Years of the file that can't be played, and why. */
  readonly left_out: readonly { readonly year: number; readonly why: string }[];
  /** What drawn years of a weather file rest on beside what the scenario does. */
  readonly assumptions: readonly Assumption[];
}

/** Which years are asked for. */
export interface YearsWanted {
  /** So many drawn years: the scenario's seed and those after it, of a weather file those from 1. */
  readonly seeds?: number | undefined;
  /** Every whole year of the weather file. */ readonly every_year?: boolean | undefined;
}

const NO_YEARS: PossibleYears = { years: [], left_out: [], assumptions: [] };

/**
 * The years that are asked for. Of a weather file years are drawn as well: from its own monthly means of global light
 * and of air temperature, everything else as monthly means have it by default.
 *
 * @param file name of the scenario's file, for messages
 * @param onYear told how many years of the file were read, after each
 * @returns no years where none are asked for
 * @throws InputError if the weather can't give them: drawn years of a clear sky, measured ones of monthly means, or a
 *   file that holds no whole year, or only one where each is asked for
 */
export function possibleYears(
  read: ReadScenario,
  file: string,
  texts: FileTexts,
  wanted: YearsWanted,
  onYear?: OnPlayed,
): PossibleYears {
  expectArguments('possibleYears', { read, file });
  expectArgument('possibleYears', 'texts', texts, 'map');
  expectArgument('possibleYears', 'wanted', wanted, 'object');
  const { seeds, every_year } = wanted;
  expectWhole('possibleYears', 'wanted.seeds', seeds ?? 1, 1, HIGHEST_SEED);
  const { weather, run } = read.scenario;
  if (seeds === undefined && !every_year) return NO_YEARS;
  if (!('file' in weather)) {
    if (every_year) throw noSeveralYears();
    return { ...NO_YEARS, years: drawnYears(ensembleSeeds(weather, seeds!)) };
  }
  const measured: PossibleYear[] = [];
  const left_out: { year: number; why: string }[] = [];
  const whole: PreparedYear[] = [];
  const touched = yearsOfFile(read.scenario, file, texts);
  // A file that is read as of one year has that one.
  const all = touched ?? [{ year: run.year, days: 365, held: 1 }];
  for (const one of playableYears(read, file, texts, all, onYear)) {
    if (one.prepared === null) {
      left_out.push({ year: one.year, why: one.why });
      continue;
    }
    measured.push({ kind: 'measured', year: one.year, repeated: one.repeated });
    if (seeds !== undefined) whole.push(one.prepared);
  }
  if (every_year && (touched === null || measured.length < 2)) throw noSeveralYears();
  const years = every_year ? measured : [];
  if (seeds === undefined) return { years, left_out, assumptions: [] };
  if (whole.length === 0)
    throw refusal(
      'seeds',
      '--seeds',
      `${weather.file} holds no whole year to take monthly means from`,
      'name a file of a whole year, or describe the weather by monthly means (weather.kind: monthly_means)',
    );
  const { means, assumptions } = meansOfYears(read, weather.file, whole);
  return {
    years: [...years, ...drawnYears(ensembleSeeds(weather, seeds), means)],
    left_out: every_year ? left_out : [],
    assumptions,
  };
}

const refuse = refusal.bind(null, 'seeds', '--seeds');

const HIGHEST_SEED = 4_294_967_295;

/**
 * The seeds of an ensemble: the scenario's own and those after it; of a weather file, which has none, from 1.
 *
 * @param count how many years to draw, from 1
 * @throws InputError if there is nothing to draw, or the seeds end before
 */
function ensembleSeeds(weather: Weather, count: number): readonly number[] {
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

const drawnYears = (seeds: readonly number[], means?: MonthlyMeansWeather): readonly PossibleYear[] =>
  seeds.map((seed) => ({ kind: 'drawn', seed, ...(means && { means }) }));

const noSeveralYears = () =>
  refusal(
    'every-year',
    '--every-year',
    'the weather is no file of two whole years or more',
    'leave --every-year out, or name a file of several years; --seeds draws years from monthly means',
  );

/**
 * The scenario as it is played in one of its possible years; as it stands without one.
 *
 * @throws InputError for a drawn year of weather that has no monthly means
 */
export function inYear(scenario: Scenario, year: PossibleYear | undefined): Scenario {
  if (year === undefined) return scenario;
  const { weather, run, loads } = scenario;
  if (year.kind === 'drawn') {
    const means = year.means ?? weather;
    if (means.kind !== 'monthly_means')
      throw refusal('seeds', 'weather', 'there are no means to draw years from');
    return { ...scenario, weather: { ...means, seed: year.seed } };
  }
  return {
    ...scenario,
    run: { ...run, year: year.year },
    loads:
      year.repeated.length === 0
        ? loads
        : loads.map((load) =>
            load.kind === 'series' && year.repeated.includes(load.file)
              ? { ...load, time: { ...load.time, year: year.year } }
              : load,
          ),
  };
}

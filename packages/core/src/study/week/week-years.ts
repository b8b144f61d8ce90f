import { expectArgument, expectArguments } from '../../basis/arguments.ts';
import { refusal } from '../../basis/errors.ts';
import { type Danger, worstDangers } from '../../findings/static/dangers.ts';
import type { PlantState } from '../../ledger/state.ts';
import { plantOf } from '../../plant/plant.ts';
import type { ReadScenario } from '../../scenario/read.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import type { FileTexts } from '../../series/types.ts';
import type { OnPlayed } from '../on-played.ts';
import { type FileYear, playableYears, yearsOfFile } from '../years/file-years.ts';
import { askWeek, type WeekAnswer, type WeekAsk } from './week.ts';

const refuse = refusal.bind(null, 'week', '--every-year');

/** The same question put to every whole year of a weather file. */
export interface WeekYears {
  /** In the order of the years. */
  readonly years: readonly { readonly year: number; readonly answer: WeekAnswer }[];
  /** Years that the file only holds in part, or that can't be played, and why. */
  readonly left_out: readonly { readonly year: number; readonly why: string }[];
  /** Position in `years` of the one that is hardest to ride out. */
  readonly worst: number;
  /** Of the plant in all of them, each as far beyond its limit as it gets. */
  readonly dangers: readonly Danger[];
}

/**
 * Asks for the leanest days of every year that the scenario's weather file covers; sun, loads and bank are those of
 * each year, which begins as the one asked before it ended (the first closes on itself, or begins with
 * `run.initial_soc`). A year is left out, with the reason: see `playableYears`.
 *
 * @param ask its `start` must be null: every year has its own leanest days
 * @param onYear told how many of the file's years are done, after each
 * @throws InputError if the weather is no series, or its file holds fewer than two whole years
 */
export function askEveryYear(
  read: ReadScenario,
  file: string,
  texts: FileTexts,
  ask: WeekAsk,
  onYear?: OnPlayed,
): WeekYears {
  expectArguments('askEveryYear', { read, file });
  expectArgument('askEveryYear', 'texts', texts, 'map');
  expectArgument('askEveryYear', 'ask', ask, 'object');
  if (ask.start !== null) {
    throw refuse('--start names days of one year', 'leave --start out, or --every-year');
  }
  const years: { year: number; answer: WeekAnswer }[] = [];
  const left_out: { year: number; why: string }[] = [];
  let handed_on: PlantState | null = null;
  const touched = yearsTouched(read.scenario, file, texts);
  for (const one of playableYears(read, file, texts, touched, onYear)) {
    if (one.prepared === null) {
      left_out.push({ year: one.year, why: one.why });
      continue;
    }
    const answer: WeekAnswer = askWeek(one.prepared, plantOf(one.prepared.scenario), ask, { handed_on });
    handed_on = answer.played_end;
    years.push({ year: one.year, answer });
  }
  if (years.length < 2) {
    const why = left_out.map((out) => `${out.year}: ${out.why}`).join('; ');
    throw refuse(
      `the weather file holds ${years.length === 0 ? 'no whole year' : `one whole year, ${years[0]!.year}`}${why === '' ? '' : ` (${why})`}`,
      'leave --every-year out, or name a file of several years; gaps.fill lets short gaps be filled',
    );
  }
  const worst = years.reduce((w, { answer }, k) => (isHarder(answer, years[w]!.answer) ? k : w), 0);
  const [first, ...others] = years.map(({ answer }) => answer.dangers);
  return { years, left_out, worst, dangers: worstDangers(first!, ...others) };
}

/**
 * The years of the scenario's weather file.
 *
 * @throws InputError if the weather is no file of dated rows
 */
function yearsTouched(scenario: Scenario, file: string, texts: FileTexts): readonly FileYear[] {
  const { weather } = scenario;
  if (!('file' in weather)) {
    throw refuse(
      weather.kind === 'monthly_means'
        ? 'the weather is drawn from monthly means: there is one year for each seed, and no file'
        : 'a clear sky is the same every year',
      weather.kind === 'monthly_means'
        ? 'vary the seed: longnight size --seeds, or longnight sweep --vary weather.seed=1:20:1'
        : 'leave --every-year out',
    );
  }
  const years = yearsOfFile(scenario, file, texts);
  if (years !== null) return years;
  throw refuse(
    weather.kind === 'series'
      ? `every stamp of ${weather.file} is read as of ${weather.time.year} (weather.time.year): it is one year`
      : `${weather.file} is read as a typical year (weather.years): it is one year`,
    'leave --every-year out',
  );
}

/** More unmet comes first, then fewer such days ridden, then the lower bank. */
function isHarder(a: WeekAnswer, b: WeekAnswer): boolean {
  const rides = ({ rides_days }: WeekAnswer): number => rides_days ?? Number.POSITIVE_INFINITY;
  if (a.unmet_kWh !== b.unmet_kWh) return a.unmet_kWh > b.unmet_kWh;
  if (rides(a) !== rides(b)) return rides(a) < rides(b);
  return a.lowest_soc < b.lowest_soc;
}

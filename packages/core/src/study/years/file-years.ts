import { InputError } from '../../basis/errors.ts';
import { buildClock } from '../../clock/clock.ts';
import type { ReadScenario } from '../../scenario/read.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import type { FileTexts } from '../../series/types.ts';
import { weatherRows } from '../../sky/rows.ts';
import { type PreparedYear, prepareYear } from '../../year.ts';
import type { OnPlayed } from '../on-played.ts';

/** A local year that a weather file touches. */
export interface FileYear {
  readonly year: number;
  readonly days: number;
  /** Share of it between the file's first and last row. */
  readonly held: number;
}

/** Less of a year than this is not even worth a word: the hours that a file in UTC spills into its neighbours. */
const WORTH_A_WORD = 0.05;
/** More than this is played: hours that miss at an end are a gap, which the scenario may let be filled. */
export const WHOLE_YEAR = 0.98;

/**
 * Years of which the scenario's weather file holds more than a few hours, earliest first.
 *
 * @returns null if the weather is not from a file, or the file is read as of one year
 * @throws InputError if the file can't be read
 */
export function yearsOfFile(scenario: Scenario, file: string, texts: FileTexts): readonly FileYear[] | null {
  const { weather, site, run } = scenario;
  if (!('file' in weather)) return null;
  const { start_ms, end_ms, as_of_year } = weatherRows(weather, run.year, texts, file).series;
  if (as_of_year !== null) return null;
  const [first_ms, last_ms] = [start_ms[0]!, end_ms[end_ms.length - 1]!];
  const years: FileYear[] = [];
  for (let year = new Date(first_ms).getUTCFullYear() - 1; ; year++) {
    const clock = buildClock(year, site.time_zone, run.step_min);
    const from_ms = clock.start_ms[0]!;
    const to_ms = clock.start_ms[clock.steps - 1]! + clock.step_min * 60_000;
    if (from_ms >= last_ms) return years;
    const held = (Math.min(to_ms, last_ms) - Math.max(from_ms, first_ms)) / (to_ms - from_ms);
    if (held > WORTH_A_WORD) years.push({ year, days: clock.days, held });
  }
}

/** A year of a weather file, prepared to be played, or why it can't be. */
type PlayableYear =
  | {
      readonly year: number;
      readonly prepared: PreparedYear;
      /** Files of loads that hold another year and are read as of this one. */
      readonly repeated: readonly string[];
    }
  | { readonly year: number; readonly prepared: null; readonly why: string };

/**
 * Prepares year after year of a weather file, each when it is asked for. A load series of another year is read as of
 * each: one measured year of loads repeats, date for date. A year is left out, with the reason, if the file holds a part
 * of it, or if it has gaps that may not be filled, there or in a load series.
 *
 * @param onYear told how many of them are done with, whenever the next is asked for
 */
export function* playableYears(
  read: ReadScenario,
  file: string,
  texts: FileTexts,
  touched: readonly FileYear[],
  onYear: OnPlayed = () => {},
): Generator<PlayableYear, void, undefined> {
  for (const [done, { year, days, held }] of touched.entries()) {
    onYear(done, touched.length);
    if (held < WHOLE_YEAR) {
      const why = `the file holds ${Math.round(held * days)} of its ${days} days`;
      yield { year, prepared: null, why };
      continue;
    }
    try {
      yield { year, ...preparedAs(read, file, texts, year) };
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      yield { year, prepared: null, why: error.issues[0]!.message };
    }
  }
}

function preparedAs(
  read: ReadScenario,
  file: string,
  texts: FileTexts,
  year: number,
): { prepared: PreparedYear; repeated: readonly string[] } {
  const scenario = { ...read.scenario, run: { ...read.scenario.run, year } };
  try {
    return { prepared: prepareYear({ ...read, scenario }, file, texts), repeated: [] };
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const others = new Set(error.issues.flatMap(({ code, path }) => (code === 'wrong-year' ? [path] : [])));
    const repeated: string[] = [];
    const loads = scenario.loads.map((load, k) => {
      if (load.kind !== 'series' || !others.has(`loads[${k}]`)) return load;
      if (!repeated.includes(load.file)) repeated.push(load.file);
      return { ...load, time: { ...load.time, year } };
    });
    if (repeated.length === 0) throw error;
    try {
      return { prepared: prepareYear({ ...read, scenario: { ...scenario, loads } }, file, texts), repeated };
    } catch (again) {
      // A file of several years has none that would stand for this one.
      throw again instanceof InputError ? error : again;
    }
  }
}

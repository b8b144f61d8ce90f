import { buildClock } from '../clock/clock.ts';
import type { Scenario } from '../scenario/schema.ts';
import type { FileTexts } from '../series/types.ts';
import { weatherRows } from '../sky/rows.ts';

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

/** Why a year is not whole. */
export const heldWords = (held: number, days: number): string =>
  `the file holds ${Math.round(held * days)} of its ${days} days`;

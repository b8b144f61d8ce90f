import { type Plant, plantOf } from '../../plant/plant.ts';
import { checkedScenario, type ReadScenario } from '../../scenario/read.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import type { FileTexts } from '../../series/types.ts';
import { newYearPreparer, type PreparedYear, withAssumptionsOf } from '../../year.ts';
import { setAt } from './designer.ts';
import { checkPath } from './paths.ts';

/** A scenario with the year and the plant that are its own: prices, dangers and assumptions of a report are theirs. */
export interface Variant {
  /** Checked, parts and defaults filled in. */ readonly scenario: Scenario;
  /** Its hours. */ readonly year: PreparedYear;
  /** Its plant. */ readonly plant: Plant;
}

/**
 * The one way to vary: makes variants of a scenario by putting values into it, as if its file said so; parts are filled
 * in and all is checked after that. What a change leaves alone of the year (sun, sky, arrays, loads) is prepared once.
 * None at all gives the scenario as it stands. For thousands of designs see `varyPlant`.
 *
 * @param read a scenario as `readScenario` or `scenarioOf` gave it
 * @param file its name, for messages; left out, the one that it was read by
 * @param texts text, or numbers, of every file that a variant names
 * @returns a function from values by path (`bank.modules_parallel`, `arrays[0].tilt_deg`, or a whole section; undefined
 *   takes a key out) to the variant. It throws InputError for a path that the scenario has not, with the nearest, and
 *   for values that it can't have
 */
export function newVariantMaker(
  read: ReadScenario,
  file: string = read.place('').file,
  texts: FileTexts = read.series,
): (changes?: Readonly<Record<string, unknown>>) => Variant {
  const { written, shelf } = read.source;
  const yearOf = newYearPreparer(file, texts);
  return (changes = {}) => {
    let { data } = written;
    for (const [path, value] of Object.entries(changes))
      for (const place of checkPath({ ...written, data }, shelf, path, path))
        data = setAt(data, place, value);
    const varied = checkedScenario({ ...written, data }, shelf);
    const { scenario } = varied;
    return { scenario, year: withAssumptionsOf(varied, yearOf(scenario)), plant: plantOf(scenario) };
  };
}

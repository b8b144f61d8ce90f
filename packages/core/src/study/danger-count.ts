import { InputError } from '../basis/errors.ts';
import { dangersOf } from '../findings/dangers.ts';
import { plantOf } from '../plant/plant.ts';
import type { Scenario } from '../scenario/schema.ts';
import { newYearShelf } from '../year.ts';
import type { Errand } from './chunk.ts';

/**
 * Counts the dangers of designs without playing them, for a search that plays few of its designs. Drawn years differ in
 * their light and not in their temperatures, so the scenario's own stands for all of them.
 *
 * @returns a function from a scenario to the number; 0 where its year can't be prepared, which playing it says
 * @throws Error what is no fault of the input
 */
export function newDangerCounter({ source, texts }: Errand): (scenario: Scenario) => number {
  const yearOf = newYearShelf(source.file, texts);
  return (scenario) => {
    try {
      return dangersOf(yearOf(scenario), plantOf(scenario)).length;
    } catch (error) {
      if (error instanceof InputError) return 0;
      throw error;
    }
  };
}

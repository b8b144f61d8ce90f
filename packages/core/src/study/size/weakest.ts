import { expectArgument, expectArguments } from '../../basis/arguments.ts';
import { type Closest, givesOutFindings } from '../../findings/gives-out.ts';
import { unmetFindings } from '../../findings/unmet.ts';
import { playYear } from '../../hours/play.ts';
import type { UnmetCause } from '../../ledger/columns.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import type { FileTexts } from '../../series/types.ts';
import { newYearPreparer } from '../../year.ts';
import type { Harder } from '../designs/harder.ts';
import { newYearPlayer } from '../designs/play.ts';

/** Where a plant gives out in a year, or would next. */
export interface WeakestPoint {
  /** The limit behind most unmet energy; null if nothing is unmet. */ readonly cause: UnmetCause | null;
  /** What all limits left unmet. */ readonly unmet_kWh: number;
  /** The limit that the plant came closest to. */ readonly closest: Closest;
}

/**
 * Finds the weakest point of designs, one after another; what their years share is prepared once.
 *
 * @param file name of the scenario's file, for messages
 * @param texts text of every series file that the scenarios name
 * @param harder what to make of each year, and how old a plant is, before it is played
 * @returns a function from a scenario, as it is played in the year asked about; the scenario in its own year, which says
 *   how fast an aged plant wears, comes second
 */
export function newWeakestFinder(
  file: string,
  texts: FileTexts,
  harder: Harder,
): (scenario: Scenario, own?: Scenario) => WeakestPoint {
  expectArguments('newWeakestFinder', { file, harder });
  expectArgument('newWeakestFinder', 'texts', texts, 'map');
  const play = newYearPlayer(newYearPreparer(file, texts), playYear, harder);
  return (scenario, own) => {
    const { ledger } = play(scenario, own);
    const unmet = unmetFindings(ledger);
    const { main_cause, closest } = givesOutFindings(ledger, unmet);
    return { cause: main_cause, unmet_kWh: unmet.energy_kWh, closest: closest[0]! };
  };
}

import { expectArgument } from '../../basis/arguments.ts';
import type { FileTexts } from '../../series/types.ts';
import type { Axis } from '../designs/axes.ts';
import { figuresOf, newChunkPlayer } from '../designs/chunk.ts';
import { type Harder, NOT_HARDER } from '../designs/harder.ts';
import type { Figures } from '../designs/play.ts';
import { openStudy, type StudyText } from '../designs/study.ts';
import type { PossibleYear } from '../years/possible-years.ts';
import { chooseDesign, refuseCircumstances, type SizeAnswer, type SizeAsk } from './size.ts';

/** One design of a study and what its year brings. */
export interface Varied {
  /** Of the design in its study. */ readonly index: number;
  /** In the order of the axes. */ readonly values: readonly (number | string)[];
  /** One set a year; one without years. Null if the design was not played. */
  readonly figures: readonly Figures[] | null;
  /** Why it was not. */ readonly contradiction: string | null;
}

/** What designs are played over besides their scenarios. */
export interface VaryOptions {
  /** Text of every series file that a design names. */ readonly texts?: FileTexts;
  /** Years to play each design in, as `possibleYears` gives them; empty plays it once, as the scenario says. */
  readonly years?: readonly PossibleYear[];
  /** What to make of each year before it is played. */ readonly harder?: Harder;
}

function expectAxes(where: string, axes: readonly Axis[]): void {
  expectArgument(where, 'axes', axes, 'list');
  for (let k = 0; k < axes.length; k++) {
    expectArgument(where, `axes[${k}]`, axes[k], 'object');
    expectArgument(where, `axes[${k}].path`, axes[k]!.path, 'text');
    expectArgument(where, `axes[${k}].values`, axes[k]!.values, 'list');
  }
}

/**
 * Plays every combination of some values, one after the other in this thread. The rows come as they are played: many
 * designs take no more memory than one.
 *
 * @throws InputError if the scenario is wrong, or an axis is (see `openStudy`)
 */
export function* varyPlant(
  source: StudyText,
  axes: readonly Axis[],
  options: VaryOptions = {},
): Generator<Varied, void, undefined> {
  expectArgument('varyPlant', 'source', source, 'source');
  expectAxes('varyPlant', axes);
  expectArgument('varyPlant', 'options', options, 'object');
  const { texts = new Map(), years = [], harder = NOT_HARDER } = options;
  const study = openStudy(source, axes);
  const play = newChunkPlayer({ source, texts, axes, years });
  for (let index = 0; index < study.designs; index++) {
    const played = play({ indices: [index], harder });
    yield {
      index,
      values: study.valuesOf(index),
      figures: figuresOf(played, 0, years.length),
      contradiction: played.contradictions[0] ?? null,
    };
  }
}

/**
 * The design with the least figure among those that keep every requirement, from playing them all in this thread.
 *
 * @throws InputError as `varyPlant`, and for an axis that is not of the plant (see `refuseCircumstances`)
 */
export const sizePlant = (
  source: StudyText,
  axes: readonly Axis[],
  ask: SizeAsk,
  options: VaryOptions = {},
): SizeAnswer => {
  expectAxes('sizePlant', axes);
  expectArgument('sizePlant', 'ask', ask, 'object');
  expectArgument('sizePlant', 'ask.holds', ask.holds, 'list');
  refuseCircumstances(axes);
  return chooseDesign(varyPlant(source, axes, options), ask);
};

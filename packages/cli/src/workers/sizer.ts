import type { Axis, Harder, Scenario, SizeAnswer, SizeAsk } from '@longnight/core';
import {
  figuresOf,
  newChooser,
  type PlayedChunk,
  type Study,
  type StudyTask,
  type Tried,
  triedDesign,
} from '@longnight/core/study';
import { playDesigns } from './pool.ts';

/** A sizing question as far as playing it goes. */
export interface SizeWork {
  readonly study: Study;
  readonly axes: readonly Axis[];
  readonly task: StudyTask;
  readonly ask: SizeAsk;
  /** Of the scenario, before any axis. */ readonly money: Scenario['money'];
  readonly threads: number;
}

/** Told of each chunk that was played; may throw to stop the work. */
export type Heard = (indices: readonly number[], played: PlayedChunk) => void;

/** Plays every design. */
export async function playAll(work: SizeWork, harder: Harder, heard: Heard): Promise<SizeAnswer> {
  const { study, task, ask, threads } = work;
  const chooser = newChooser(ask);
  const every = function* () {
    for (let index = 0; index < study.designs; index++) yield index;
  };
  for await (const { indices, played } of playDesigns(task, every(), harder, threads)) {
    indices.forEach((index, k) => {
      chooser.take({ index, figures: figuresOf(played, k, task.years.length) });
    });
    heard(indices, played);
  }
  return chooser.answer();
}

/**
 * True if the figure is never less than the price to buy, which is known before the hours are played: not where what is
 * left of the parts is taken off the cost.
 */
export const bySomePrice = ({ ask, axes, money }: SizeWork): boolean =>
  ask.least === 'money.capital' ||
  (ask.least === 'money.total' &&
    !money?.residual_share &&
    !axes.some(({ path }) => path.startsWith('money.')));

/**
 * The cheapest design that holds, by playing designs from the lowest price to buy up, until that price alone is more
 * than the best so far costs in all: exact without any claim about the plants.
 *
 * @param priceOf a design to buy; null or undefined leaves the design out, as without a price it can't be chosen
 */
export async function cheapestUpwards(
  work: SizeWork,
  harder: Harder,
  priceOf: (index: number) => number | null | undefined,
  heard: Heard,
): Promise<Tried | null> {
  const { study, task, ask, threads } = work;
  const prices = Float64Array.from({ length: study.designs }, (_, index) => priceOf(index) ?? Number.NaN);
  const upwards = Uint32Array.from(prices.keys())
    .filter((index) => !Number.isNaN(prices[index]))
    .sort((a, b) => prices[a]! - prices[b]! || a - b);
  // Prices ascend, and of equal ones the smaller index comes first: the first of the least is the one to take.
  let best: Tried | null = null;
  for await (const { indices, played } of playDesigns(task, upwards, harder, threads)) {
    for (const [k, index] of indices.entries()) {
      const figures = figuresOf(played, k, task.years.length);
      const one = figures === null ? null : triedDesign(index, figures, ask);
      if (one?.holds && one.least !== null && !(best !== null && best.least! <= one.least)) best = one;
    }
    heard(indices, played);
    if (best !== null && prices[indices.at(-1)!]! > best.least!) break;
  }
  return best;
}

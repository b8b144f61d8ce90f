import {
  type Axis,
  billOfScenario,
  type Errand,
  figuresOf,
  type Harder,
  newChooser,
  newChunkPlayer,
  newDangerCounter,
  type PlayedChunk,
  provenMonotone,
  type SizeAnswer,
  type SizeAsk,
  type Study,
  searchCheapest,
  type Tried,
  tried,
} from '@longnight/core';
import { playDesigns } from './pool.ts';

/** A sizing question as far as playing it goes. */
export interface SizeWork {
  readonly study: Study;
  readonly axes: readonly Axis[];
  readonly errand: Errand;
  readonly ask: SizeAsk;
  readonly threads: number;
}

/** Told of each chunk that was played; may throw to stop the work. */
export type Heard = (indices: readonly number[], played: PlayedChunk) => void;

/** Grids above this are searched where that is exact; below it every design is worth showing. */
const LARGE_GRID = 20_000;

/** Plays every design. */
export async function playAll(work: SizeWork, harder: Harder, heard: Heard): Promise<SizeAnswer> {
  const { study, errand, ask, threads } = work;
  const chooser = newChooser(ask);
  const every = function* () {
    for (let index = 0; index < study.designs; index++) yield index;
  };
  for await (const { indices, played } of playDesigns(errand, every(), harder, threads)) {
    indices.forEach((index, k) => {
      chooser.take({ index, figures: figuresOf(played, k, errand.seeds.length) });
    });
    heard(indices, played);
  }
  return chooser.answer();
}

/** Price of every design to buy; null where one is missing, or the values contradict each other. */
export const pricesOf = (study: Study): readonly (number | null)[] =>
  Array.from({ length: study.designs }, (_, index) => {
    const { scenario } = study.design(index);
    return scenario === null ? null : billOfScenario(scenario).capital;
  });

/**
 * The same prices without those of dangerous designs, which a search then never takes: what a larger plant serves says
 * nothing of them.
 */
export function harmlessPrices(
  { study, errand }: SizeWork,
  prices: readonly (number | null)[],
): { readonly prices: readonly (number | null)[]; readonly dangerous: number } {
  const count = newDangerCounter(errand);
  let dangerous = 0;
  const harmless = prices.map((price, index) => {
    const { scenario } = study.design(index);
    if (scenario === null || count(scenario) === 0) return price;
    dangerous++;
    return null;
  });
  return { prices: harmless, dangerous };
}

/** Figures that are never less than the price to buy, which is known before the hours are played. */
export const bySomePrice = ({ least }: SizeAsk): boolean =>
  least === 'money.capital' || least === 'money.total';

/**
 * The cheapest design that holds, by playing designs from the lowest price to buy up, until that price alone is more
 * than the best so far costs in all: exact without any claim about the plants.
 */
export async function cheapestUpwards(
  work: SizeWork,
  harder: Harder,
  prices: readonly (number | null)[],
  heard: Heard,
): Promise<Tried | null> {
  const { errand, ask, threads } = work;
  const upwards = prices
    .map((_, index) => index)
    .filter((index) => prices[index] !== null)
    .sort((a, b) => prices[a]! - prices[b]! || a - b);
  const chooser = newChooser(ask);
  let best = Number.POSITIVE_INFINITY;
  for await (const { indices, played } of playDesigns(errand, upwards, harder, threads)) {
    for (const [k, index] of indices.entries()) {
      const figures = figuresOf(played, k, errand.seeds.length);
      chooser.take({ index, figures });
      const one = figures === null ? null : tried(index, figures, ask);
      if (one?.holds) best = Math.min(best, one.least ?? best);
    }
    heard(indices, played);
    if (prices[indices.at(-1)!]! > best) break;
  }
  const answer = chooser.answer();
  return answer.best === null ? null : answer.tried(answer.best)!;
}

/** Along which axes the pruned search may skip designs; null where it may nowhere, or the figure is not a price to buy. */
export function provenFor({ study, ask }: SizeWork): readonly boolean[] | null {
  if (study.designs <= LARGE_GRID || ask.least !== 'money.capital') return null;
  const proven = provenMonotone(study, ask.holds);
  return proven.includes(true) ? proven : null;
}

/** The same answer as `playAll` from the few plays that proven monotonicities leave; the front is that of those. */
export async function search(
  work: SizeWork,
  harder: Harder,
  prices: readonly (number | null)[],
  monotone: readonly boolean[],
  heard: Heard,
): Promise<SizeAnswer> {
  const { axes, errand, ask } = work;
  const play = newChunkPlayer(errand);
  const chooser = newChooser(ask);
  const keeps = (index: number): boolean => {
    const played = play({ indices: [index], harder });
    const figures = figuresOf(played, 0, errand.seeds.length);
    chooser.take({ index, figures });
    heard([index], played);
    return figures !== null && tried(index, figures, ask).holds;
  };
  const steps = searchCheapest({
    lengths: axes.map((axis) => axis.values.length),
    cost: (index) => prices[index]!,
    monotone,
  });
  let step = steps.next();
  while (step.done !== true) {
    step = steps.next(step.value.map(keeps));
    // Lets signals through.
    await new Promise((resolve) => setImmediate(resolve));
  }
  const { best } = step.value;
  // Proven to hold by a smaller design that does, it need not have been played itself.
  if (best !== null && chooser.answer().tried(best) === undefined) keeps(best);
  return chooser.answer();
}

import { mean, quantileSorted } from 'simple-statistics';
import { expectArgument, expectArguments } from '../../basis/arguments.ts';
import { kindOf } from '../../basis/kind.ts';
import { expectWhole, expectWithin, FINITE } from '../../basis/within.ts';
import { countsAs, figureNamed } from '../../findings/figures/figures.ts';

/** What many years of a figure are summed up to: `p95` is what 95 of 100 years stay at or below. */
export type Statistic = `p${number}` | 'mean' | 'worst';

/** As they are told in messages. */
export const STATISTICS = 'p1 to p99, mean or worst';

/** Reads the name of a statistic; null for anything else. */
export const statisticNamed = (text: string): Statistic | null =>
  text === 'mean' || text === 'worst' || /^p[1-9]\d?$/.test(text) ? (text as Statistic) : null;

/** Figures of one year by their dotted names. */
export type FigureOf = (name: string) => number | null;

/**
 * A percentile by its number.
 *
 * @param percent whole, 1 to 99
 */
export function percentile(percent: number): Statistic {
  expectWhole('percentile', 'percent', percent, 1, 99);
  return `p${percent}`;
}

/**
 * A figure over years.
 *
 * @param name of the figure, which says what a null counts as and which end is worse
 * @param values one a year, in any order, at least one
 * @throws RangeError for a statistic that is none, and without values
 * @returns in the unit of the figure; null if it is not known in one of the years, or has no worse end
 *
 * Source: quantiles as Hyndman & Fan 1996, American Statistician 50, 361-365, definition 7 (recalled), by
 * simple-statistics.
 */
export function overYears(
  name: string,
  statistic: Statistic,
  values: readonly (number | null)[],
): number | null {
  expectArguments('overYears', { name });
  expectArgument('overYears', 'statistic', statistic, 'text');
  if (statisticNamed(statistic) === null)
    throw new RangeError(`overYears: statistic is ${kindOf(statistic)}; expected ${STATISTICS}`);
  expectArgument('overYears', 'values', values, 'list');
  expectWithin('overYears', 'values.length', values.length, 1, FINITE);
  for (const [k, value] of values.entries())
    expectWithin('overYears', `values[${k}]`, value ?? 0, -FINITE, Number.POSITIVE_INFINITY);
  const known = values.map((value) => countsAs(name, value)).filter((value) => value !== null);
  if (known.length < values.length) return null;
  // Sorted, so that a sum does not depend on the order of the years.
  known.sort((a, b) => a - b);
  if (statistic === 'mean') return mean(known);
  if (statistic !== 'worst') return quantileSorted(known, Number(statistic.slice(1)) / 100);
  const better = worseEnd(name);
  return better === null ? null : better === 'most' ? known.at(-1)! : known[0]!;
}

/** Which end of a figure is worse for whoever owns the plant; null where neither is. */
export function worseEnd(name: string): 'most' | 'least' | null {
  const better = figureNamed(name)?.better ?? null;
  return better === null ? null : better === 'less' ? 'most' : 'least';
}

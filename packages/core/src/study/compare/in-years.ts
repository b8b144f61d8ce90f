import { overYears, type Statistic } from '../years/over-years.ts';
import type { PossibleYear } from '../years/possible-years.ts';
import {
  COMPARED,
  type ComparedFigures,
  type ComparedName,
  type Told,
  toldOf,
  winnersIn,
} from './figures.ts';

/** A figure of one plant over the years. */
export interface YearsSpread {
  /** One year in twenty has less. */ readonly p5: number;
  /** Half have less. */ readonly p50: number;
  /** One year in twenty has more. */ readonly p95: number;
  readonly mean: number;
}

/** One figure of all contenders over the years. */
export interface CompareYearsRow extends Told {
  /** One a contender; null where it has no such figure. */
  readonly spreads: readonly (YearsSpread | null)[];
  /** Contenders with the best mean of those that can be the best. */ readonly winners: readonly number[];
}

/** How plants fare over the same years. */
export interface CompareYears {
  /** The same for all plants. */ readonly years: readonly PossibleYear[];
  /** Figures that are not the same in all of them. */ readonly rows: readonly CompareYearsRow[];
  /** In how many of them each plant goes short. */ readonly short_years: readonly number[];
  /** In how many of them the first of two plants goes short and the second does not, by their places. */
  readonly short_alone: readonly (readonly number[])[];
  /** Year by year, plant by plant. */ readonly by_year: readonly (readonly ComparedFigures[])[];
}

/** The mean of each figure; null where a plant has no such figure. */
export const meanOf = (years: readonly ComparedFigures[]): ComparedFigures =>
  Object.fromEntries(COMPARED.map((name) => [name, spreadOf(years, name)?.mean ?? null])) as ComparedFigures;

/**
 * Sets plants side by side over the years that all of them were played in.
 *
 * @param by_year year by year, plant by plant
 * @param may false for a plant that is not the best in what is spent
 */
export function overTheYears(
  years: readonly PossibleYear[],
  by_year: CompareYears['by_year'],
  may: readonly boolean[],
): CompareYears {
  const short = may.map((_, k) => by_year.map((plants) => (plants[k]!['unmet.hours'] ?? 0) > 0));
  return {
    years,
    rows: COMPARED.filter((name) =>
      may.some((_, k) => new Set(by_year.map((plants) => plants[k]![name])).size > 1),
    ).map((name) => {
      const spreads = may.map((_, k) =>
        spreadOf(
          by_year.map((plants) => plants[k]!),
          name,
        ),
      );
      const means = spreads.map((spread) => spread?.mean ?? null);
      return { ...toldOf(name), spreads, winners: winnersIn(name, means, may) };
    }),
    short_years: short.map((one) => one.filter(Boolean).length),
    short_alone: short.map((one) =>
      short.map((other) => one.filter((isShort, y) => isShort && !other[y]).length),
    ),
    by_year,
  };
}

function spreadOf(years: readonly ComparedFigures[], name: ComparedName): YearsSpread | null {
  const values = years.map((year) => year[name]);
  // What a plant lacks counts as nothing in a bound, and is no figure to win by.
  if (values.includes(null)) return null;
  const over = (statistic: Statistic): number => overYears(name, statistic, values)!;
  return { p5: over('p5'), p50: over('p50'), p95: over('p95'), mean: over('mean') };
}

import { bisect } from 'simple-statistics';

/**
 * How the clearness of single days spreads around a month's mean. Clearness is global irradiation of a day over the
 * extraterrestrial one, both on the horizontal.
 */

/** Parameters of the distribution of a month's daily clearness: a density exp(steepness k) between two ends. */
export interface ClearnessSpread {
  readonly least: number;
  readonly most: number;
  /** Below zero in dull months. */
  readonly steepness: number;
}

/** Of the width of the distribution, the nearest that its mean comes to either end. */
const NEAREST_END_share = 0.005;

/**
 * Clearness of the dullest day of a month, by the month's mean: dull climates have days of 0.05, brighter ones don't.
 *
 * Source: 0.05 Hollands & Huget 1983, Solar Energy 30, 195-209; the rise above a mean of 0.3 is our own, fitted to 37
 * years of days at three places (tests/published/drawn-years.test.ts).
 */
export const leastClearness = (mean: number): number => 0.05 + 0.25 * Math.max(0, mean - 0.3);

/**
 * Spread of daily clearness whose mean is a month's.
 *
 * @param mean monthly mean clearness, above 0
 * @param clearest clearness of a cloudless day of the month
 * @param least of the dullest day
 *
 * Source: the density Bendt, Collares-Pereira & Rabl 1981, Solar Energy 27, 1-5. Its clearest day is the place's own
 * cloudless one, where Hollands & Huget 1983 have a fit by the mean alone; the steepness is the one that gives the mean
 * exactly, where Herzog 1985 has a fit.
 */
export function clearnessSpread(mean: number, clearest: number, least: number): ClearnessSpread {
  const low = Math.min(least, mean / 2);
  const most = Math.max(clearest, 1.02 * mean);
  const width = most - low;
  const at = Math.min(1 - NEAREST_END_share, Math.max(NEAREST_END_share, (mean - low) / width));
  const steepness = bisect((x) => meanWithin(x) - at, -400, 400, 80, 1e-12) / width;
  return { least: low, most, steepness };
}

/** Mean of the density exp(x y) for y from 0 to 1. */
const meanWithin = (x: number): number => (Math.abs(x) < 1e-3 ? 0.5 + x / 12 : 1 / -Math.expm1(-x) - 1 / x);

/**
 * Clearness that a share of all days stays below: the inverse of the distribution.
 *
 * @param share 0 to 1
 */
export function clearnessBelow(share: number, { least, most, steepness }: ClearnessSpread): number {
  const x = steepness * (most - least);
  if (Math.abs(x) < 1e-9) return least + share * (most - least);
  // For a steep rise exp(x) alone would overflow.
  if (x > 1) return most + Math.log(share + (1 - share) * Math.exp(-x)) / steepness;
  return least + Math.log1p(share * Math.expm1(x)) / steepness;
}

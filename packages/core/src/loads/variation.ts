import { randomNormal } from 'd3-random';
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { mersenne } from 'pure-rand/generator/mersenne';

/**
 * The seed of a load's days in one year: years of the same load differ, and loads of one seed go on varying together.
 * For one seed no two years have the same.
 *
 * Source: the finaliser of MurmurHash3, Appleby 2011 (recalled), which mixes 32 bits and loses none.
 *
 * @param seed of the load, 0 to 2^32 - 1
 * @param year the drawn year's seed, or the calendar year of measured weather
 */
export const seedInYear = (seed: number, year: number): number => mixed(mixed(seed) + year) >>> 0;

function mixed(value: number): number {
  let bits = value | 0;
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return bits ^ (bits >>> 16);
}

/**
 * Factors by which a load differs from day to day: log-normal, mean 1, independent of each other, so that a year's sum
 * comes out near, not at, the one without them. Loads with one seed rise and fall together.
 *
 * Source: moments of the log-normal distribution, textbooks (recalled): with sigma² = ln(1 + c²) and mu = -sigma² / 2
 * the mean is 1 and the coefficient of variation c.
 *
 * @param variation_share coefficient of variation c, 0 or more
 * @param seed 0 to 2^32 - 1; the same seed gives the same days
 */
export function dayFactors(days: number, variation_share: number, seed: number): Float64Array {
  const generator = mersenne(seed);
  const normal = randomNormal.source(() => uniformFloat64(generator))(0, 1);
  const variance = Math.log(1 + variation_share ** 2);
  const deviation = Math.sqrt(variance);
  return Float64Array.from({ length: days }, () => Math.exp(deviation * normal() - variance / 2));
}

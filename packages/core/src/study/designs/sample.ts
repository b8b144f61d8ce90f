import { expectArguments } from '../../basis/arguments.ts';
import { expectWhole, expectWithin } from '../../basis/within.ts';
import { type Axis, combinations } from './axes.ts';

/** The first primes, one base an axis. */
const PRIMES = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37] as const;

/** Most axes a sample can be drawn over. */
export const MOST_SAMPLED_AXES = PRIMES.length;

/**
 * Radical inverse of n in a base: its digits mirrored at the point.
 *
 * @param n whole, from 0
 * @param base whole, from 2; primes for the axes of a sample
 * Source: Halton 1960, Numerische Mathematik 2, 84-90.
 */
export function radicalInverse(n: number, base: number): number {
  let result = 0;
  let weight = 1 / base;
  for (let left = n; left > 0; left = Math.floor(left / base)) {
    result += (left % base) * weight;
    weight /= base;
  }
  return result;
}

/**
 * Indices of distinct designs that a Halton sequence meets first: an even cover of the grid, the same each time, and a
 * longer sample begins with the shorter one.
 *
 * @param count how many; all designs if the grid has no more
 * @returns design indices in the order in which they were met
 */
export function sampleDesigns(axes: readonly Axis[], count: number): readonly number[] {
  expectArguments('sampleDesigns', { axes });
  expectWhole('sampleDesigns', 'count', count, 0, Number.MAX_SAFE_INTEGER);
  const all = combinations(axes);
  if (count >= all) return Array.from({ length: all }, (_, index) => index);
  expectWithin('sampleDesigns', 'axes.length', axes.length, 0, MOST_SAMPLED_AXES);
  const met = new Set<number>();
  // The sequence starts at 1: its point 0 is the corner of the grid in every base.
  for (let n = 1; met.size < count; n++) {
    let index = 0;
    for (let k = 0; k < axes.length; k++) {
      const base = axes[k]!.values.length;
      index = index * base + Math.floor(radicalInverse(n, PRIMES[k]!) * base);
    }
    met.add(index);
  }
  return [...met];
}

import { bisect, gammaln } from 'simple-statistics';
import { expectWithin } from '../../basis/within.ts';
import type { ShareRange } from '../../findings/years.ts';

/** Share of answers like this one in which the true share lies within what is told. */
export const CONFIDENCE = 0.95;

/**
 * What `held` of `years` drawn or measured years say of all such years: the shares that are not refuted by them.
 *
 * @param held 0 to `years`
 * @param years from 1
 *
 * Source: Clopper & Pearson 1934, Biometrika 26, 404-413: exact for independent years, which possible years are and
 * years in a row nearly.
 */
export function howSure(held: number, years: number): ShareRange {
  expectWithin('howSure', 'years', years, 1, 1_000_000);
  expectWithin('howSure', 'held', held, 0, years);
  const tail = (1 - CONFIDENCE) / 2;
  return {
    low: held === 0 ? 0 : shareWith((share) => 1 - atMost(held - 1, years, share), tail),
    high: held === years ? 1 : shareWith((share) => -atMost(held, years, share), -tail),
  };
}

/** The share at which a function that grows with it has a value. */
const shareWith = (grows: (share: number) => number, value: number): number =>
  bisect((share) => grows(share) - value, 1e-12, 1 - 1e-12, 60, 1e-9);

/** Probability of at most so many successes. */
function atMost(most: number, years: number, share: number): number {
  let sum = 0;
  for (let k = 0; k <= most; k++)
    sum += Math.exp(
      gammaln(years + 1) -
        gammaln(k + 1) -
        gammaln(years - k + 1) +
        k * Math.log(share) +
        (years - k) * Math.log1p(-share),
    );
  return Math.min(1, sum);
}

import { gammaln } from 'simple-statistics';
import { expectWhole, expectWithin } from '../../basis/within.ts';
import { CONFIDENCE } from './how-sure.ts';

/** More years than this are never played, and nothing is counted beyond them. */
export const MOST_YEARS_TO_TELL = 100_000;

/** Whether years tell that a plant holds as often as asked, or that it does not. */
export interface YearsToTell {
  /** True if the share asked for lies outside what `howSure` leaves open. */
  readonly told: boolean;
  /**
   * How many years in all would tell, were the share held in them that of today. Null where it is told already, and
   * where more than `MOST_YEARS_TO_TELL` would be needed: a plant that holds in just as many years as asked, or that must
   * hold in all of them and did so far, is never told by a count.
   */
  readonly years: number | null;
}

/**
 * The fewest years at which what `howSure` leaves open no longer contains the share asked for. A share that so many
 * years can't have is rounded towards the one asked for, so that no count is promised too early.
 *
 * @param held of `years`, 0 to `years`
 * @param years played, from 1
 * @param asked in how many of the years played it must hold, 0 to `years`
 *
 * Source: the limits of Clopper & Pearson 1934, as `howSure`; a tail of the binomial decides on which side of the share
 * asked for they lie.
 */
export function yearsToTell(held: number, years: number, asked: number): YearsToTell {
  expectWhole('yearsToTell', 'years', years, 1, 1_000_000);
  expectWhole('yearsToTell', 'held', held, 0, years);
  expectWithin('yearsToTell', 'asked', asked, 0, years);
  if (tells(held, years, asked / years)) return { told: true, years: null };
  const never = { told: false, years: null };
  if (held === asked) return never;
  const share = asked / years;
  const heldOf = (n: number): number => {
    const exact = (held * n) / years;
    return held > asked ? Math.floor(exact + 1e-9) : Math.ceil(exact - 1e-9);
  };
  // Multiples have the share of today without rounding: each tells more than the one before.
  let [low, high] = [1, Math.floor(MOST_YEARS_TO_TELL / years)];
  if (high < 1 || !tells(held * high, years * high, share)) return never;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (tells(held * middle, years * middle, share)) high = middle;
    else low = middle;
  }
  let n = years * low + 1;
  while (n < years * high && !tells(heldOf(n), n, share)) n++;
  return { told: false, years: n };
}

/** True if so many of the years refute a share: it is outside the limits of `howSure`. */
function tells(held: number, years: number, share: number): boolean {
  const tail = (1 - CONFIDENCE) / 2;
  if (share <= 0) return held > 0;
  if (share >= 1) return held < years;
  return held > share * years
    ? atLeast(held, years, share) < tail
    : atLeast(years - held, years, 1 - share) < tail;
}

/** Probability of that many successes or more, summed from there until what is added no longer counts. */
function atLeast(held: number, years: number, share: number): number {
  let term = Math.exp(
    gammaln(years + 1) -
      gammaln(held + 1) -
      gammaln(years - held + 1) +
      held * Math.log(share) +
      (years - held) * Math.log1p(-share),
  );
  let sum = term;
  for (let k = held; k < years; k++) {
    term *= ((years - k) / (k + 1)) * (share / (1 - share));
    sum += term;
    if (k > share * years && term < sum * 1e-16) break;
  }
  return sum;
}

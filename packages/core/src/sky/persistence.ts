import { randomNormal } from 'd3-random';
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { mersenne } from 'pure-rand/generator/mersenne';

/**
 * Of a day's weather, the share that belongs to its season rather than to the day, and how much of that lives on in the
 * next day: it makes a month like the one before. Our own, fitted to 37 years of days at three places, whose months
 * correlate with the next by 0.12 to 0.22 (tests/published/drawn-years.test.ts).
 */
export const SEASON_share = 0.04;
const SEASON_persistence = 0.97;

/** How much of the air's departure from its month's mean lives on in the next day, beside what follows the sky. */
const AIR_persistence = 0.8;

/**
 * How much of a day's weather lives on in the next: correlation of one day with the next after clearness is made
 * normal.
 *
 * @param mean monthly mean clearness
 *
 * Source: the line is our own, fitted to 37 years of days at three places, where it is 0.23 to 0.59; Graham, Hollands &
 * Unny 1988, Solar Energy 40, 83-92, have 0.29 for every month (recalled).
 */
export const persistenceBy = (mean: number): number =>
  Math.min(0.6, Math.max(0.15, 0.28 + 0.8 * (mean - 0.3)));

/** Standard normal numbers, one a day, each remembering the one before. */
export interface DrawnDays {
  /** High means a clear day. */ readonly sky: Float64Array;
  /** What the air does beside the sky; independent of it. */ readonly air: Float64Array;
}

/**
 * A seeded sequence of days.
 *
 * @param persistence of each day's weather into the next, 0 to 0.9
 * @param seed 0 to 2^32 - 1; the same seed gives the same numbers
 *
 * Source: first-order autoregressive process, as Graham, Hollands & Unny 1988 use it, and a slow one of the same kind
 * for the season. Mersenne twister, because the first draws of the shift-register generators hardly depend on small
 * seeds.
 */
export function drawDays(persistence: Float64Array, seed: number): DrawnDays {
  const generator = mersenne(seed);
  const normal = randomNormal.source(() => uniformFloat64(generator))(0, 1);
  const days = persistence.length;
  const sky = new Float64Array(days);
  const air = new Float64Array(days);
  let day = normal();
  let season = normal();
  let warmth = normal();
  for (let d = 0; d < days; d++) {
    sky[d] = Math.sqrt(1 - SEASON_share) * day + Math.sqrt(SEASON_share) * season;
    air[d] = warmth;
    day = next(day, dayOnly(persistence[d]!), normal());
    season = next(season, SEASON_persistence, normal());
    warmth = next(warmth, AIR_persistence, normal());
  }
  return { sky, air };
}

/** What the day alone must remember, so that with its season it remembers as much as is asked. */
const dayOnly = (persistence: number): number =>
  Math.max(0, (persistence - SEASON_share * SEASON_persistence) / (1 - SEASON_share));

const next = (value: number, persistence: number, fresh: number): number =>
  persistence * value + Math.sqrt(1 - persistence ** 2) * fresh;

/**
 * Standard deviation of the mean of some days of `sky`.
 *
 * @param persistence of those days
 */
export function spreadOfMean(persistence: number, days: number): number {
  const own = dayOnly(persistence);
  let sum = 1;
  for (let k = 1; k < days; k++)
    sum += 2 * (1 - k / days) * ((1 - SEASON_share) * own ** k + SEASON_share * SEASON_persistence ** k);
  return Math.sqrt(sum / days);
}

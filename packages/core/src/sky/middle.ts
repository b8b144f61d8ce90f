/** Hours of the day, weighted: a day is a round, so that what comes at midnight has a middle too. */
export interface Hours {
  readonly cosine: number;
  readonly sine: number;
}

const ROUND = 2 * Math.PI;

/** What a weight at an hour of the day adds to its sums. */
export const cosineOf = (hour: number): number => Math.cos((ROUND * hour) / 24);
export const sineOf = (hour: number): number => Math.sin((ROUND * hour) / 24);

/**
 * How much later in the day the middle of gravity of one is than that of the other, minutes: above -720, up to 720. A
 * shift of more than half a day is one the other way.
 *
 * Source: the mean direction on a circle, Mardia & Jupp, Directional Statistics, 2.2 (recalled).
 */
export function later_min(of: Hours, than: Hours): number {
  const turn = Math.atan2(of.sine, of.cosine) - Math.atan2(than.sine, than.cosine);
  const half = ROUND / 2;
  return (1440 * (turn > half ? turn - ROUND : turn <= -half ? turn + ROUND : turn)) / ROUND;
}

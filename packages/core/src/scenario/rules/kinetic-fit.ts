import { expectWithin, FINITE } from '../../basis/within.ts';
/** A kinetic battery as its capacities at three currents tell it. */
export interface KineticFit {
  /** What it would give drawn on for ever so slowly, in the unit of the capacities. */
  readonly most: number;
  /** Share of the charge that is ready at once, 0 to 1. */
  readonly available_share: number;
  /** Rate at which bound charge comes free. */
  readonly rate_per_h: number;
}

/** Smallest and largest rate that are looked for: days, and well within a minute. */
const LEAST_RATE_per_h = 1e-4;
const MOST_RATE_per_h = 1e3;

/** Mean over T of what is left of a difference that decays at rate k, x = kT: (1 - e^-x) / x. */
const meanLeft = (x: number): number => -Math.expm1(-x) / x;

/**
 * Fits a kinetic battery to what it gives at constant current in 20, 10 and 5 hours.
 *
 * Its capacity at T hours is C(T) = qmax k c T / (1 - e^-kT + c (kT - 1 + e^-kT)), which is 1/C = 1/qmax + s g(kT) with
 * g(x) = (1 - e^-x) / x and s = (1/c - 1) / qmax: a straight line in g. Three points lie on one line for one k only,
 * because (g20 - g10) / (g10 - g5) falls from 2 to 1/2 as k rises; k is found by bisection, s and qmax are then read
 * off the line.
 *
 * Source: Manwell and McGowan 1993, Solar Energy 50, 399-405: the capacity function, and that three capacities give its
 * three parameters.
 *
 * @param c20 capacity over 20 hours, in the unit that `most` then has
 * @param c10 over 10 hours, in the same unit
 * @param c5 over 5 hours, in the same unit
 * @returns the fit, or in words why no kinetic battery has these capacities
 */
export function fitKinetic(c20: number, c10: number, c5: number): KineticFit | string {
  for (const [name, capacity] of Object.entries({ c20, c10, c5 }))
    expectWithin('fitKinetic', name, capacity, 0, FINITE);
  if (!(c20 > c10 && c10 > c5)) {
    return 'a battery gives more the slower it is drawn on: the capacity must fall from 20 h to 10 h to 5 h';
  }
  const wanted = (1 / c10 - 1 / c20) / (1 / c5 - 1 / c10);
  const bend = (k: number): number =>
    (meanLeft(10 * k) - meanLeft(20 * k)) / (meanLeft(5 * k) - meanLeft(10 * k));
  if (wanted >= bend(LEAST_RATE_per_h)) {
    return 'too much is lost between 20 h and 10 h for what is lost between 10 h and 5 h';
  }
  if (wanted <= bend(MOST_RATE_per_h)) {
    return 'too little is lost between 20 h and 10 h for what is lost between 10 h and 5 h';
  }
  let low = Math.log(LEAST_RATE_per_h);
  let high = Math.log(MOST_RATE_per_h);
  for (let n = 0; n < 80; n++) {
    const middle = (low + high) / 2;
    if (bend(Math.exp(middle)) > wanted) low = middle;
    else high = middle;
  }
  const rate_per_h = Math.exp((low + high) / 2);
  const slope = (1 / c5 - 1 / c20) / (meanLeft(5 * rate_per_h) - meanLeft(20 * rate_per_h));
  const per_most = 1 / c20 - slope * meanLeft(20 * rate_per_h);
  // Below this the battery would hold without end, drawn on slowly enough.
  if (!(per_most > 0.1 / c20)) {
    return 'they would have to go on rising to more than ten times the capacity at 20 h';
  }
  return { most: 1 / per_most, available_share: 1 / (1 + slope / per_most), rate_per_h };
}

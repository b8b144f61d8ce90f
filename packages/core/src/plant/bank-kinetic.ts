/** A bank of two wells: what is ready, and what is bound and comes free at a finite rate. */
export interface KineticModel {
  readonly kind: 'kinetic';
  /** c: share of the whole that the ready well holds. */
  readonly available_share: number;
  /** k: rate at which the levels of the wells come together. */
  readonly rate_per_h: number;
}

/** A kinetic bank's step of one length, worked out once; see `kineticStep`. */
export interface KineticStep {
  /** Share c of the stock that is ready once the wells are level. */
  readonly available_share: number;
  /** e^-k dt: how much of what is ready stays of its own. */
  readonly keeps: number;
  /** Ready at the end per kWh of stock at the start: c (1 - e). */
  readonly gains: number;
  /** Ready energy lost per kWh drawn evenly over the step: (1 - e + c (k dt - 1 + e)) / k dt. */
  readonly per_drawn: number;
}

/**
 * The step of a kinetic battery at constant power in closed form. With q1 ready, q all stored and u drawn evenly over
 * the step, q1' = q1 e + q c (1 - e) - u (1 - e + c (k dt - 1 + e)) / k dt, e = exp(-k dt); q' = q - u. A u below 0
 * charges. The most that can be drawn leaves q1' = 0, the most that goes in leaves q1' = c qmax: within a step q1 passes
 * neither bound and comes back, because it is a straight line and one decaying term.
 *
 * Stored energy stands for charge at the nominal voltage.
 *
 * Source: Manwell and McGowan 1993, Solar Energy 50, 399-405.
 */
export function kineticStep({ available_share: c, rate_per_h }: KineticModel, step_h: number): KineticStep {
  const x = rate_per_h * step_h;
  const keeps = Math.exp(-x);
  const lost = -Math.expm1(-x);
  return { available_share: c, keeps, gains: c * lost, per_drawn: (lost + c * (x - lost)) / x };
}

import type { Bank } from './bank.ts';

/** What `chargeRoom_kWh` needs of a bank for steps of one length, worked out once. */
export interface ChargeTerms {
  readonly capacity_kWh: number;
  readonly per_capacity: number;
  readonly per_efficiency: number;
  /** Energy of a step at the full current. */
  readonly current_kWh: number;
  /** The same at the tail current. */
  readonly tail_kWh: number;
  /** Energy that comes evenly over a step is all let in up to this, less so much of the stock at its start. */
  readonly gentle_kWh: number;
  readonly gentle_per_stock: number;
  /** Empty share below which the current tapers, and the empty share from which a step at full current stays out of it. */
  readonly taper_share: number;
  readonly clear_share: number;
  /** Empty share filled in a step at full current. */
  readonly fill_share: number;
  /** End share over slope of the taper, and the exponent of a whole step. */
  readonly tail: number;
  readonly exponent: number;
  /** What is left of the empty share, above -tail, after a whole step in the taper. */
  readonly decay: number;
}

/** Works out the terms of `chargeRoom_kWh` for steps of `step_h` hours. Source: the integral that it is derived by there. */
export function chargeTerms(bank: Bank, step_h: number): ChargeTerms {
  const taper_share = 1 - bank.taper_start_soc;
  const fill_share = (bank.charge_efficiency * bank.max_charge_kW * step_h) / bank.capacity_kWh;
  const isTapering = taper_share > 0 && bank.taper_end_share < 1;
  const slope = isTapering ? (1 - bank.taper_end_share) / taper_share : 0;
  const exponent = fill_share * slope;
  const current_kWh = bank.max_charge_kW * step_h;
  return {
    capacity_kWh: bank.capacity_kWh,
    per_capacity: 1 / bank.capacity_kWh,
    per_efficiency: 1 / bank.charge_efficiency,
    current_kWh,
    tail_kWh: isTapering ? bank.taper_end_share * current_kWh : current_kWh,
    // The taper at the end of the step, solved for what came in it.
    gentle_kWh: isTapering
      ? (current_kWh * (bank.taper_end_share + slope)) / (1 + exponent)
      : Number.POSITIVE_INFINITY,
    gentle_per_stock: isTapering ? (current_kWh * slope) / (1 + exponent) / bank.capacity_kWh : 0,
    taper_share,
    clear_share: isTapering ? taper_share + fill_share : Number.NEGATIVE_INFINITY,
    fill_share,
    tail: isTapering ? bank.taper_end_share / slope : 0,
    exponent,
    decay: Math.exp(-exponent),
  };
}

/**
 * Energy at the terminals that the bank takes within a step if it is offered all it will take, in kWh.
 *
 * Below `taper_start_soc` the current limit holds. Above it the accepted power falls on a straight line of the empty
 * share x = 1 - soc, from the full limit to `taper_end_share` of it at full, so that dx/dt = -a (e + b x), with
 * a = efficiency × limit / capacity, e the end share and b = (1 - e) / (1 - taper_start). This is its exact
 * integral over the step, so the result does not depend on where in the taper the step begins or how long it is. That
 * the taper is straight is common practice, no source.
 */
export function chargeRoom_kWh(terms: ChargeTerms, stock_kWh: number): number {
  const { capacity_kWh, per_capacity, per_efficiency, current_kWh, taper_share, tail } = terms;
  const room_kWh = (capacity_kWh - stock_kWh) * per_efficiency;
  const empty = 1 - stock_kWh * per_capacity;
  let into_kWh = current_kWh;
  if (empty < terms.clear_share) {
    const before = empty > taper_share ? (empty - taper_share) / terms.fill_share : 0;
    const decay = before === 0 ? terms.decay : Math.exp(terms.exponent * (before - 1));
    const left = (Math.min(empty, taper_share) + tail) * decay - tail;
    into_kWh = (empty - Math.max(left, 0)) * capacity_kWh * per_efficiency;
  }
  return Math.min(into_kWh, current_kWh, room_kWh);
}

/**
 * What the bank takes in a step of `came_kWh`, which is no more than its full current lets in. Most steps ask for no
 * integral: at the end of one that brings little it still takes energy as fast as that came, and a bank that even its
 * tail current fills is full.
 */
export function charged_kWh(terms: ChargeTerms, stock_kWh: number, came_kWh: number): number {
  const room_kWh = (terms.capacity_kWh - stock_kWh) * terms.per_efficiency;
  if (came_kWh >= room_kWh) {
    if (room_kWh <= terms.tail_kWh) return room_kWh;
  } else if (came_kWh <= terms.gentle_kWh - terms.gentle_per_stock * stock_kWh) return came_kWh;
  return Math.min(came_kWh, chargeRoom_kWh(terms, stock_kWh));
}

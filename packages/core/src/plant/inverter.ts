import type { InverterSpec } from '../scenario/schema.ts';

/**
 * DC input wanted for an AC output, as straight lines between knots: `dc_kW[k]` for `ac_kW[k]`, both ascending,
 * from no load (the standing loss) to the rating. One representation serves measured points and the quadratic loss
 * curve, and it is inverted without iteration.
 */
export interface Inverter {
  readonly rating_kW: number;
  readonly surge_kW: number;
  readonly standing_kW: number;
  readonly ac_kW: Float64Array;
  readonly dc_kW: Float64Array;
}

/** Segments that stand for the quadratic curve: its chord error is below loss_quadratic × rating / (4 × 64²). */
const QUADRATIC_SEGMENTS = 64;

/**
 * Builds the loss curve of an inverter.
 *
 * With `efficiency.points` the DC input at each point is output over efficiency (standing loss included, as
 * datasheets measure it) and lines join them; below the first point the line runs to the standing loss, above the
 * last one the last efficiency is kept. With `loss_linear` and `loss_quadratic` the input is
 * p + p0 + kv p + kr p², all as shares of the rating, p0 being the standing loss.
 *
 * Source: Schmidt & Sauer 1996, Sonnenenergie 4, for the quadratic form (recalled; REFERENCES check values agree).
 */
export function buildInverter(spec: InverterSpec): Inverter {
  const rating = spec.rating_kW;
  const standing_kW = spec.standing_W / 1000;
  const ac: number[] = [0];
  const dc: number[] = [standing_kW];
  if ('points' in spec.efficiency) {
    for (const point of spec.efficiency.points) {
      ac.push(point.load_share * rating);
      dc.push((point.load_share * rating) / point.efficiency_share);
    }
    const last = spec.efficiency.points.at(-1)!;
    if (last.load_share < 1) {
      ac.push(rating);
      dc.push(rating / last.efficiency_share);
    }
  } else {
    const { loss_linear, loss_quadratic } = spec.efficiency;
    const segments = loss_quadratic === 0 ? 1 : QUADRATIC_SEGMENTS;
    for (let k = 1; k <= segments; k++) {
      const p = k / segments;
      ac.push(p * rating);
      dc.push(standing_kW + rating * (p + loss_linear * p + loss_quadratic * p * p));
    }
  }
  return {
    rating_kW: rating,
    surge_kW: spec.surge_kW,
    standing_kW,
    ac_kW: Float64Array.from(ac),
    dc_kW: Float64Array.from(dc),
  };
}

/** DC input in kW for an AC output in kW, 0 ≤ output ≤ rating. */
export function dcForAc_kW(inverter: Inverter, ac_kW: number): number {
  return interpolate(inverter.ac_kW, inverter.dc_kW, ac_kW);
}

/** Highest AC output in kW from a DC input in kW: 0 up to the standing loss, the rating from full input on. */
export function acFromDc_kW(inverter: Inverter, dc_kW: number): number {
  return dc_kW <= inverter.standing_kW ? 0 : interpolate(inverter.dc_kW, inverter.ac_kW, dc_kW);
}

/** Line through ascending knots, held at both ends. Binary search: quadratic curves have 64 segments. */
function interpolate(xs: Float64Array, ys: Float64Array, x: number): number {
  const last = xs.length - 1;
  if (x <= xs[0]!) return ys[0]!;
  if (x >= xs[last]!) return ys[last]!;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (xs[middle]! <= x) low = middle;
    else high = middle;
  }
  const x0 = xs[low]!;
  return ys[low]! + ((ys[high]! - ys[low]!) * (x - x0)) / (xs[high]! - x0);
}

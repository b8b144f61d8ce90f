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
  /** DC per AC from knot k to knot k + 1. */
  readonly dc_per_ac: Float64Array;
  /** AC per DC from knot k to knot k + 1. */
  readonly ac_per_dc: Float64Array;
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
  return withKnots(rating, spec.surge_kW, ac, dc);
}

function withKnots(
  rating_kW: number,
  surge_kW: number,
  ac: ArrayLike<number>,
  dc: ArrayLike<number>,
): Inverter {
  const segments = ac.length - 1;
  const rise = (xs: ArrayLike<number>, ys: ArrayLike<number>): Float64Array =>
    Float64Array.from({ length: segments }, (_, k) => (ys[k + 1]! - ys[k]!) / (xs[k + 1]! - xs[k]!));
  return {
    rating_kW,
    surge_kW,
    standing_kW: dc[0]!,
    ac_kW: Float64Array.from(ac),
    dc_kW: Float64Array.from(dc),
    dc_per_ac: rise(ac, dc),
    ac_per_dc: rise(dc, ac),
  };
}

/** The same curve in energies of a step instead of powers: every knot times the step's length in hours. */
export const inverterPerStep = (inverter: Inverter, step_h: number): Inverter =>
  withKnots(
    inverter.rating_kW * step_h,
    inverter.surge_kW * step_h,
    inverter.ac_kW.map((kW) => kW * step_h),
    inverter.dc_kW.map((kW) => kW * step_h),
  );

/** DC input in kW for an AC output in kW, 0 ≤ output ≤ rating. */
export function dcForAc_kW(inverter: Inverter, ac_kW: number): number {
  return along(inverter.ac_kW, inverter.dc_kW, inverter.dc_per_ac, ac_kW);
}

/** Highest AC output in kW from a DC input in kW: 0 up to the standing loss, the rating from full input on. */
export function acFromDc_kW(inverter: Inverter, dc_kW: number): number {
  return dc_kW <= inverter.standing_kW ? 0 : along(inverter.dc_kW, inverter.ac_kW, inverter.ac_per_dc, dc_kW);
}

/** Line through ascending knots, held at both ends. Searched from below: loads are mostly far under the rating. */
function along(xs: Float64Array, ys: Float64Array, slopes: Float64Array, x: number): number {
  const last = xs.length - 1;
  if (x <= xs[0]!) return ys[0]!;
  if (x >= xs[last]!) return ys[last]!;
  let low = 0;
  while (xs[low + 1]! <= x) low++;
  return ys[low]! + slopes[low]! * (x - xs[low]!);
}

import { fuelPoints, idleFuel_L_per_h } from '../scenario/rules/fuel-points.ts';
import type { GeneratorSpec } from '../scenario/schema/schema.ts';

/**
 * Fuel against output as straight lines between knots, both ascending, from idle to the rating. `slope[k]` runs from knot
 * k to knot k + 1.
 */
export interface FuelCurve {
  readonly output_kW: Float64Array;
  readonly L_per_h: Float64Array;
  readonly slope_L_per_kWh: Float64Array;
}

/**
 * Builds the fuel curve of a generator from two or more points of its data sheet: two make a line, more are joined by
 * lines. The first line is carried on down to idle, the last one up to the rating.
 *
 * Source: the linear form with an idle term is that of Skarstein & Uhlen 1989, Wind Engineering 13, 72-87 (recalled); no
 * coefficients of the literature are used. Lines between points: common practice, no source.
 */
export function buildFuelCurve({ fuel, rating_kW }: GeneratorSpec): FuelCurve {
  const points = fuelPoints(fuel);
  const slopes = points.slice(1).map(({ load_share, L_per_h }, k) => {
    const before = points[k]!;
    return (L_per_h - before.L_per_h) / ((load_share - before.load_share) * rating_kW);
  });
  const inner = points.slice(1, -1);
  const last = points.at(-1)!;
  const full_L_per_h = last.L_per_h + (1 - last.load_share) * rating_kW * slopes.at(-1)!;
  return {
    output_kW: Float64Array.from([0, ...inner.map((point) => point.load_share * rating_kW), rating_kW]),
    L_per_h: Float64Array.from([idleFuel_L_per_h(points), ...inner.map((p) => p.L_per_h), full_L_per_h]),
    slope_L_per_kWh: Float64Array.from(slopes),
  };
}

/** The same curve for steps of `step_h` hours: kWh and litres of a step. */
export const fuelPerStep = (curve: FuelCurve, step_h: number): FuelCurve => ({
  output_kW: curve.output_kW.map((kW) => kW * step_h),
  L_per_h: curve.L_per_h.map((L) => L * step_h),
  slope_L_per_kWh: curve.slope_L_per_kWh,
});

/** Fuel in L/h for an output in kW, 0 to the rating. */
export function fuelAt_L_per_h({ output_kW, L_per_h, slope_L_per_kWh }: FuelCurve, out_kW: number): number {
  let k = 0;
  while (k + 1 < slope_L_per_kWh.length && output_kW[k + 1]! < out_kW) k++;
  return L_per_h[k]! + slope_L_per_kWh[k]! * (out_kW - output_kW[k]!);
}

/** Output in kW that burns so much, no more than the rating; below zero if it is less than idle takes. */
export function outputFor_kW(
  { output_kW, L_per_h, slope_L_per_kWh }: FuelCurve,
  fuel_L_per_h: number,
): number {
  let k = 0;
  while (k + 1 < slope_L_per_kWh.length && L_per_h[k + 1]! < fuel_L_per_h) k++;
  return Math.min(
    output_kW[slope_L_per_kWh.length]!,
    output_kW[k]! + (fuel_L_per_h - L_per_h[k]!) / slope_L_per_kWh[k]!,
  );
}

import { expectArguments } from '../basis/arguments.ts';
import { radians } from '../basis/units.ts';
import { expectColumn, expectWithin } from '../basis/within.ts';
import { pressureShare } from '../sun/air-mass.ts';
import type { SunYear } from '../sun/year.ts';

/**
 * Highest ground for which the clear-sky fit is asked, metres. Above it the air of 3,000 m is used: carried on, the
 * fit would let more light through than arrives from space at about 4,000 m. Our own limit, no source.
 */
export const HIGHEST_m = 3000;

/** What the height of a place does to its clear sky. */
export interface ClearAir {
  readonly fh1: number;
  readonly fh2: number;
  readonly cg1: number;
  readonly cg2: number;
  /** Pressure over that at sea level. */
  readonly pressure_share: number;
}

/**
 * Height terms of the clear-sky model.
 *
 * @param elevation_m above sea level; above 3,000 m the values of 3,000 m
 *
 * Source: Ineichen & Perez 2002, Solar Energy 73, 151-157; fh1 and fh2 after Kasten 1984; pressure as `pressureShare`.
 */
export function clearAir(elevation_m: number): ClearAir {
  const h = Math.min(elevation_m, HIGHEST_m);
  return {
    fh1: Math.exp(-h / 8000),
    fh2: Math.exp(-h / 1250),
    cg1: 5.09e-5 * h + 0.868,
    cg2: 3.92e-5 * h + 0.0387,
    pressure_share: pressureShare(h),
  };
}

/**
 * Global irradiance on the horizontal under a cloudless sky.
 *
 * The low-sun term, exp(0.01 m^1.8), outgrows what the air takes where the sun is lowest, sooner in clean air: it gives
 * back half of it at most.
 *
 * @param extraterrestrialHorizontal_W_m2 above the air, on the horizontal; a mean over the step gives a mean
 * @param airMass relative, as at sea level; the pressure of the place is in `air`
 * @param turbidity_linke Linke turbidity, 1 for clean dry air to about 7
 * @param air height terms
 * @returns W/m², never above `extraterrestrialHorizontal_W_m2`
 *
 * Source: Ineichen & Perez 2002, Solar Energy 73, 151-157, by the air mass of the place (Kasten & Young 1989, times
 * pressure); low-sun term: Perez et al. 2002, Solar Energy 73, 307-317, p. 311. That it gives
 * back half at most is our own step.
 */
export function clearSkyGlobal_W_m2(
  extraterrestrialHorizontal_W_m2: number,
  airMass: number,
  turbidity_linke: number,
  air: ClearAir,
): number {
  const { fh1, fh2, cg1, cg2, pressure_share } = air;
  const mass = airMass * pressure_share;
  const taken = cg2 * mass * (fh1 + fh2 * (turbidity_linke - 1));
  const lowSun = Math.min(0.01 * mass ** 1.8, taken / 2);
  return extraterrestrialHorizontal_W_m2 * Math.min(1, cg1 * Math.exp(lowSun - taken));
}

/**
 * Beam irradiance on a plane that faces the sun under a cloudless sky: the lesser of the model's own beam and the one
 * that leaves its global irradiance enough diffuse light.
 *
 * @param extraterrestrialNormal_W_m2 above the air, facing the sun
 * @param global_W_m2 `clearSkyGlobal_W_m2` while the sun is up
 * @param sinAltitude sine of the sun's altitude, above zero
 * @param airMass relative, as at sea level; the pressure of the place is in `air`
 * @param turbidity_linke Linke turbidity
 * @param air height terms
 * @returns W/m², with `global_W_m2` >= beam * `sinAltitude`
 *
 * Source: Ineichen & Perez 2002, Solar Energy 73, 151-157, and the correction on p. 312 of Perez et al. 2002.
 */
export function clearSkyBeam_W_m2(
  extraterrestrialNormal_W_m2: number,
  global_W_m2: number,
  sinAltitude: number,
  airMass: number,
  turbidity_linke: number,
  air: ClearAir,
): number {
  const own =
    extraterrestrialNormal_W_m2 *
    (0.664 + 0.163 / air.fh1) *
    Math.exp(-0.09 * airMass * air.pressure_share * (turbidity_linke - 1));
  const leastDiffuse = (0.1 - 0.2 * Math.exp(-turbidity_linke)) / (0.1 + 0.882 / air.fh1);
  const byGlobal = (global_W_m2 / sinAltitude) * (1 - leastDiffuse);
  return Math.max(0, Math.min(own, byGlobal, extraterrestrialNormal_W_m2));
}

/**
 * Cloudless global irradiance on the horizontal over a year, mean of each step.
 *
 * @param sun the sun over the steps
 * @param turbidity_linke one value a step
 * @param elevation_m of the site
 * @returns W/m², as many entries as the sun has
 *
 * Source: `clearSkyGlobal_W_m2`.
 */
export function clearSkyGlobalYear(
  sun: SunYear,
  turbidity_linke: Float64Array,
  elevation_m: number,
): Float64Array {
  expectArguments('clearSkyGlobalYear', { sun });
  expectColumn('clearSkyGlobalYear', 'turbidity_linke', turbidity_linke, sun.up_share.length);
  expectWithin('clearSkyGlobalYear', 'elevation_m', elevation_m, -430, 6000);
  const air = clearAir(elevation_m);
  const above = sun.extraterrestrial_horizontal_W_m2;
  const out = new Float64Array(above.length);
  for (let i = 0; i < out.length; i++)
    if (above[i]! > 0) out[i] = clearSkyGlobal_W_m2(above[i]!, sun.air_mass[i]!, turbidity_linke[i]!, air);
  return out;
}

/**
 * Cloudless beam irradiance over a year, mean of each whole step, facing the sun.
 *
 * @param ghi_W_m2 `clearSkyGlobalYear` of the same sky
 * @param sun the sun over the steps
 * @param turbidity_linke one value a step
 * @param elevation_m of the site
 * @returns W/m², as many entries as the sun has
 *
 * Source: `clearSkyBeam_W_m2`.
 */
export function clearSkyBeamYear(
  ghi_W_m2: Float64Array,
  sun: SunYear,
  turbidity_linke: Float64Array,
  elevation_m: number,
): Float64Array {
  const air = clearAir(elevation_m);
  const out = new Float64Array(ghi_W_m2.length);
  for (let i = 0; i < out.length; i++) {
    const up = sun.up_share[i]!;
    const sinAltitude = Math.sin(radians(sun.altitude_deg[i]!));
    if (up === 0 || sinAltitude <= 0) continue;
    const normal = sun.extraterrestrial_normal_W_m2[i]!;
    const global = ghi_W_m2[i]! / up;
    out[i] = up * clearSkyBeam_W_m2(normal, global, sinAltitude, sun.air_mass[i]!, turbidity_linke[i]!, air);
  }
  return out;
}

import { STC_CELL_TEMPERATURE_C, STC_IRRADIANCE_W_m2 } from '../basis/constants.ts';

/**
 * DC power per kWp of rating, before losses of dirt, mismatch, wires and age.
 *
 * @param effective_W_m2 irradiance that passes the glass, against light at normal incidence
 * @param cell_C cell temperature, °C
 * @param coefficient_per_K change of power with cell temperature, as a share of the rating; negative for silicon
 * @returns kW per kWp, never negative
 *
 * Source: Evans 1981, Solar Energy 27, 555-560 (linear form, recalled).
 */
export const dcPower_kW_per_kWp = (
  effective_W_m2: number,
  cell_C: number,
  coefficient_per_K: number,
): number =>
  Math.max(
    0,
    (effective_W_m2 / STC_IRRADIANCE_W_m2) * (1 + coefficient_per_K * (cell_C - STC_CELL_TEMPERATURE_C)),
  );

/** Irradiance at which data sheets state the loss of efficiency in weak light (EN 50380). */
const WEAK_LIGHT_W_m2 = 200;

/**
 * Efficiency in weak light over that at 1000 W/m².
 *
 * It falls with the logarithm of the light, as the voltage of a cell does, through the data sheet's figure at
 * 200 W/m². Above 1000 W/m² it stays at 1. The form is common practice, no source; series resistance, which bends it
 * above some 400 W/m², and shunts, which bend it below some 50 W/m², are left out.
 *
 * @param effective_W_m2 irradiance that passes the glass
 * @param loss_share efficiency lost at 200 W/m² against 1000 W/m², 0 to 1
 * @returns 0 to 1
 */
export function lowLightShare(effective_W_m2: number, loss_share: number): number {
  if (effective_W_m2 >= STC_IRRADIANCE_W_m2) return 1;
  if (effective_W_m2 <= 0) return 0;
  const fifths =
    Math.log(effective_W_m2 / STC_IRRADIANCE_W_m2) / Math.log(STC_IRRADIANCE_W_m2 / WEAK_LIGHT_W_m2);
  return Math.max(0, 1 + loss_share * fifths);
}

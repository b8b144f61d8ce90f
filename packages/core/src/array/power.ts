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

import type { Assumption } from '../basis/notices.ts';

/** One array over the year, per kWp of its size. Arrays have `clock.steps` entries. */
export interface ArrayYear {
  readonly name: string;
  /** Irradiance on the plane, all parts, before incidence losses, W/m². */
  readonly plane_W_m2: Float64Array;
  /** Mean cell temperature in the step, °C. */
  readonly cell_temperature_C: Float64Array;
  /** DC power offered to the tracker per kWp, after all array losses, kW. Never negative. */
  readonly dc_kW_per_kWp: Float64Array;
  readonly assumptions: readonly Assumption[];
}

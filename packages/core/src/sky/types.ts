import type { Assumption, Notice } from '../basis/notices.ts';

/**
 * What the sky gives in each step of a clock, all means over the whole step. Arrays have `clock.steps` entries.
 * Invariant: ghi = dhi + dni * sin(altitude at the middle of the sun-up part), within the measurement if measured.
 */
export interface SkyYear {
  readonly ghi_W_m2: Float64Array;
  readonly dni_W_m2: Float64Array;
  readonly dhi_W_m2: Float64Array;
  readonly air_temperature_C: Float64Array;
  readonly wind_m_s: Float64Array;
  readonly notices: readonly Notice[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Where the sun is in each step of a clock. All arrays have `clock.steps` entries. A step in which the sun is up for
 * a part only is described at the middle of that part, so that the hours of sunrise and sunset are right.
 */
export interface SunYear {
  /** Share of the step with the sun's centre above the geometric horizon (no refraction), 0 to 1. */
  readonly up_share: Float64Array;
  /** Altitude without refraction at the middle of the sun-up part (of the step, if the sun is down), degrees. */
  readonly altitude_deg: Float64Array;
  /** Azimuth clockwise from north at the same instant, degrees. */
  readonly azimuth_deg: Float64Array;
  /** Extraterrestrial irradiance on a plane facing the sun, W/m². */
  readonly extraterrestrial_normal_W_m2: Float64Array;
  /** Extraterrestrial irradiance on the horizontal, mean over the whole step, W/m²; 0 at night. */
  readonly extraterrestrial_horizontal_W_m2: Float64Array;
  /** Relative optical air mass at the middle of the sun-up part; 0 at night. */
  readonly air_mass: Float64Array;
}

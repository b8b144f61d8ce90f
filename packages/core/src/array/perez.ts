/**
 * Brightness of the sky around the sun (f11 f12 f13) and at the horizon (f21 f22 f23) in eight classes of sky, dull to
 * clear; one row a class, in the order in which the paper prints them.
 *
 * Source: Perez, Ineichen, Seals, Michalsky & Stewart 1990, Solar Energy 44, 271-289, table 6, all sites (f23
 * recalled; it reproduces the independently computed F2 of all eight classes).
 */
// biome-ignore format: a table is read by rows
const COEFFICIENTS = [
  -0.008,  0.588, -0.062, -0.060,  0.072, -0.022,
   0.130,  0.683, -0.151, -0.019,  0.066, -0.029,
   0.330,  0.487, -0.221,  0.055, -0.064, -0.026,
   0.568,  0.187, -0.295,  0.109, -0.152, -0.014,
   0.873, -0.392, -0.362,  0.226, -0.462,  0.001,
   1.132, -1.237, -0.412,  0.288, -0.823,  0.056,
   1.060, -1.600, -0.359,  0.264, -1.127,  0.131,
   0.678, -0.327, -0.250,  0.156, -1.377,  0.251,
] as const;

/** Clearness from which each class but the first begins. Source: as the coefficients, table 1. */
const CLASS_FROM = [1.065, 1.23, 1.5, 1.95, 2.8, 4.5, 6.2] as const;

/** Per cubed radian of zenith angle. Source: as the coefficients, eq. 1. */
const KAPPA = 1.041;

/** How the diffuse light of a sky is spread. */
export interface SkyBrightness {
  /** Perez's epsilon: 1 for an overcast sky, above 6.2 for a very clear one. */
  clearness: number;
  /** Share of the diffuse light that comes from around the sun, F1, 0 to 1. */
  circumsolar: number;
  /** Excess of the horizon as a share of the diffuse light, F2; below zero where the zenith is brighter. */
  horizon: number;
}

/**
 * Spread of the diffuse light over the sky.
 *
 * @param zenith angle of the sun from the zenith, radians
 * @param dni_W_m2 beam facing the sun
 * @param dhi_W_m2 diffuse on the horizontal, above zero
 * @param extraterrestrialNormal_W_m2 above the air, facing the sun
 * @param airMass relative
 * @param out overwritten, so that a year of steps allocates nothing
 *
 * Source: Perez, Ineichen, Seals, Michalsky & Stewart 1990, Solar Energy 44, 271-289, eq. 1, 2 and 6.
 */
export function skyBrightness(
  zenith: number,
  dni_W_m2: number,
  dhi_W_m2: number,
  extraterrestrialNormal_W_m2: number,
  airMass: number,
  out: SkyBrightness,
): void {
  const bent = KAPPA * zenith ** 3;
  const clearness = ((dhi_W_m2 + dni_W_m2) / dhi_W_m2 + bent) / (1 + bent);
  const brightness = (airMass * dhi_W_m2) / extraterrestrialNormal_W_m2;
  let row = 0;
  while (row < CLASS_FROM.length && clearness >= CLASS_FROM[row]!) row++;
  const at = 6 * row;
  const f = COEFFICIENTS;
  out.clearness = clearness;
  out.circumsolar = Math.min(1, Math.max(0, f[at]! + f[at + 1]! * brightness + f[at + 2]! * zenith));
  out.horizon = f[at + 3]! + f[at + 4]! * brightness + f[at + 5]! * zenith;
}

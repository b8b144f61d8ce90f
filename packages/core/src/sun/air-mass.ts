import { radians } from '../basis/units.ts';

/**
 * Relative optical air mass: how many times the air of the zenith the light has passed, at the same pressure.
 *
 * @param apparentAltitude_deg of the sun as it is seen, refraction included; below the horizon there is no path and
 *   the answer is 0
 * @returns 1 at the zenith (0.9997 by the fit) to 37.9 at the horizon
 *
 * Source: Kasten & Young 1989, Applied Optics 28, 4735-4738, eq. 3. That their angle is the refracted one is recalled;
 * Young 1994, Applied Optics 33, 1108-1110, gives a fit for the true one.
 */
export function airMass(apparentAltitude_deg: number): number {
  if (apparentAltitude_deg < 0) return 0;
  return (
    1 / (Math.sin(radians(apparentAltitude_deg)) + 0.50572 * (apparentAltitude_deg + 6.07995) ** -1.6364)
  );
}

/**
 * Pressure at a height over that at sea level: the relative air mass times it is the air that the light has passed.
 *
 * @param elevation_m above sea level, up to 11,000 m
 * @returns 1 at sea level, 0.802 at 1,829 m
 *
 * Source: International Standard Atmosphere, ISO 2533:1975 (recalled).
 */
export const pressureShare = (elevation_m: number): number => (1 - 2.25577e-5 * elevation_m) ** 5.25588;
